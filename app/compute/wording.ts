import type { Wording } from '../../src/figure/index.ts';

/** How the screens write what stands in figures. */
export const WORDING: Wording = { language: 'en', decimalMark: '.' };
