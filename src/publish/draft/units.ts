import type { Unit } from '../../quantity/index.ts';

/** The second: times of a model have no unit of the author's. */
export const SECOND: Unit = { text: 's', factor: 1, offset: 0, dimension: [0, 0, 1, 0, 0, 0, 0], angle: 0 };
