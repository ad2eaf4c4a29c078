import { type Dimension, formatDimension } from './dimension.ts';
import type { Unit } from './unit.ts';

/** The coherent SI unit of a dimension, in base units: 'kg·m/s²'; '' where dimensionless. */
export function coherentUnit(dimension: Dimension): Unit {
  const text = formatDimension(dimension);
  return { text: text === '1' ? '' : text, factor: 1, offset: 0, dimension, angle: 0 };
}
