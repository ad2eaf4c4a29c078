import type { SeriesRole } from './figure.ts';

export type MarkerShape = 'disc' | 'ring' | 'square' | 'diamond' | 'triangle';

/** What tells a series from others without colour: the shape of its points, and its line. */
export interface SeriesStyle {
  readonly shape: MarkerShape;
  /** Strokes and gaps, in tenths of the font size; empty for an unbroken line. */
  readonly dash: readonly number[];
  /** Width of the line against the usual one. */
  readonly weight: number;
}

export const seriesStyles: Readonly<Record<SeriesRole, SeriesStyle>> = {
  measured: { shape: 'disc', dash: [], weight: 1 },
  fit: { shape: 'ring', dash: [], weight: 1.2 },
  full: { shape: 'square', dash: [], weight: 1.5 },
  ideal: { shape: 'diamond', dash: [7, 4], weight: 1.4 },
  theory: { shape: 'triangle', dash: [1.5, 3], weight: 1.6 },
  first: { shape: 'disc', dash: [], weight: 1 },
  second: { shape: 'square', dash: [7, 3], weight: 1 },
  third: { shape: 'diamond', dash: [2, 2.5], weight: 1.2 },
  fourth: { shape: 'triangle', dash: [8, 2.5, 2, 2.5], weight: 1 },
  quiet: { shape: 'ring', dash: [], weight: 0.7 },
};
