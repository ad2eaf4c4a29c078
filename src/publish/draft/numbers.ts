import type { BaseQuantity, LabResult } from '../../lab/index.ts';
import {
  type Inline,
  type Inlines,
  interval,
  joinInlines,
  plainNumber,
  point,
  rounded,
  type ValueInline,
} from '../document/index.ts';

interface Known {
  readonly value: number;
  readonly standardUncertainty: number;
}

/** How well a given quantity is known in one run: its own standard uncertainty, and how runs differ. SI. */
export function uncertaintyOf({ estimate, eachRun }: BaseQuantity): number {
  return Math.hypot(estimate.standardUncertainty, eachRun?.standardUncertainty ?? 0);
}

/** The same in the quantity's unit, to so many digits, whole numbers too: 23 094 J/kg is 20 000 J/kg. */
export function roughUncertainty(quantity: BaseQuantity, digits: 1 | 2): ValueInline {
  const shown = interval(uncertaintyOf(quantity), 0, quantity.unit, digits);
  return { ...shown, value: Number(shown.value.toPrecision(digits)) };
}

/** A result's value with its uncertainty, in the result's unit. */
export function resultValue(result: LabResult, { value, standardUncertainty }: Known): ValueInline {
  return point(value, standardUncertainty, result.unit);
}

/** What theory says of a result, to the last digit of the full model's value beside which it stands. */
export function theoryValue(result: LabResult, theory: Known, full: Known): ValueInline {
  return full.standardUncertainty > 0
    ? rounded(theory.value, full.standardUncertainty, result.unit, 2)
    : point(theory.value, 0, result.unit);
}

/** A result as a group would report it: to the first digit of the uncertainty. */
export function reportedValue(result: LabResult, value: number, standardUncertainty: number): ValueInline {
  return standardUncertainty > 0
    ? rounded(value, standardUncertainty, result.unit)
    : point(value, 0, result.unit, 3);
}

/** A change of a result, with its sign in front. */
export function resultChange(result: LabResult, { value, standardUncertainty }: Known): Inlines {
  return [{ ...interval(value, standardUncertainty, result.unit), isSigned: true }];
}

/** The size of a change of a result, without its sign. */
export function sizeOfChange(result: LabResult, { value, standardUncertainty }: Known): Inline {
  return interval(Math.abs(value), standardUncertainty, result.unit);
}

/** The size of an effect's share, to the digits that its uncertainty leaves it, without saying that uncertainty. */
export function roundedSize(
  result: LabResult,
  effect: { readonly share: number; readonly standardUncertainty: number },
): ValueInline {
  const unit = { ...result.unit, offset: 0 };
  return effect.standardUncertainty > 0
    ? rounded(Math.abs(effect.share), effect.standardUncertainty, unit, 2)
    : point(Math.abs(effect.share), 0, unit, 3);
}

/** A share as a percentage with its sign: '+1.9 %'. Two significant digits say all that a class can use. */
export function percentage(share: number, isSigned = true): Inlines {
  return joinInlines({ ...plainNumber(100 * share, 2), isSigned }, '\u00a0%');
}
