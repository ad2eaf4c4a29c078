import type { LabResult } from '../../lab/index.ts';
import {
  type Inline,
  type Inlines,
  interval,
  joinInlines,
  plainNumber,
  point,
  type ValueInline,
} from '../document/index.ts';

interface Known {
  readonly value: number;
  readonly standardUncertainty: number;
}

/** A result's value with its uncertainty, in the result's unit. */
export function resultValue(result: LabResult, { value, standardUncertainty }: Known): ValueInline {
  return point(value, standardUncertainty, result.unit);
}

/** A change of a result, with its sign in front. */
export function resultChange(result: LabResult, { value, standardUncertainty }: Known): Inlines {
  return joinInlines(value > 0 ? '+' : '', interval(value, standardUncertainty, result.unit));
}

/** The size of a change of a result, without its sign. */
export function sizeOfChange(result: LabResult, { value, standardUncertainty }: Known): Inline {
  return interval(Math.abs(value), standardUncertainty, result.unit);
}

/** A share as a percentage with its sign: '+1.9 %'. Two significant digits say all that a class can use. */
export function percentage(share: number, isSigned = true): Inlines {
  return joinInlines(isSigned && share > 0 ? '+' : '', plainNumber(100 * share, 2), ' %');
}
