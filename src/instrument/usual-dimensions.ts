import type { Dimension } from '../quantity/index.ts';

/** Order of exponents: length, mass, time, current, temperature, amount, luminous intensity. */
export const time: Dimension = [0, 0, 1, 0, 0, 0, 0];
export const frequency: Dimension = [0, 0, -1, 0, 0, 0, 0];
export const length: Dimension = [1, 0, 0, 0, 0, 0, 0];
export const angle: Dimension = [0, 0, 0, 0, 0, 0, 0];
