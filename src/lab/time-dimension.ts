import type { Dimension } from '../quantity/index.ts';

/** The dimension of time, by which a rate of change differs from what changes. */
export const timeDimension: Dimension = Object.freeze([0, 0, 1, 0, 0, 0, 0]);
