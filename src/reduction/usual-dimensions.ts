import { type Dimension, divideDimensions, raiseDimension } from '../quantity/index.ts';

/** Order of exponents: length, mass, time, current, temperature, amount, luminous intensity. */
export const SECOND: Dimension = [0, 0, 1, 0, 0, 0, 0];
export const METRE: Dimension = [1, 0, 0, 0, 0, 0, 0];
export const HERTZ: Dimension = raiseDimension(SECOND, -1);
export const METRE_PER_SECOND: Dimension = divideDimensions(METRE, SECOND);
