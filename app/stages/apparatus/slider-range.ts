import type { BaseQuantity } from '../../../src/lab/index.ts';
import { fromSI } from '../../../src/quantity/index.ts';

/** The stretch over which a quantity's slider runs, in the unit that it is written in. */
export interface SliderRange {
  readonly low: number;
  readonly high: number;
  readonly step: number;
  /** Digits behind the decimal mark that the step needs. */
  readonly decimals: number;
  /** Value and standard uncertainty that the range was made for; drawn on the track. */
  readonly centre: number;
  readonly uncertainty: number;
}

/** Far enough to see what an error of judgement would do: ten standard uncertainties, and a quarter of the value. */
const REACH_U = 10;
const REACH_SHARE = 0.25;

/** A slider has some three hundred places that a hand can tell apart. */
const PLACES = 300;

/**
 * Where a slider of a quantity runs: as far as its uncertainty and its size make plausible, never through 0 for a
 * quantity that has a sign.
 */
export function sliderRange({ estimate, unit }: BaseQuantity): SliderRange | null {
  const centre = fromSI(estimate.value, unit, 'point');
  const uncertainty = fromSI(estimate.standardUncertainty, unit, 'interval');
  const reach = Math.max(REACH_U * uncertainty, REACH_SHARE * Math.abs(centre));
  if (!(reach > 0) || !Number.isFinite(reach)) return null;
  const step = 10 ** Math.floor(Math.log10((2 * reach) / PLACES));
  const decimals = Math.max(0, -Math.floor(Math.log10(step)));
  if (decimals > 20) return null;
  const towardsZero = Math.min(reach, 0.98 * Math.abs(centre)) || reach;
  const low = centre > 0 ? centre - towardsZero : centre - reach;
  const high = centre < 0 ? centre + towardsZero : centre + reach;
  return {
    low: Math.ceil(low / step) * step,
    high: Math.floor(high / step) * step,
    step,
    decimals,
    centre,
    uncertainty,
  };
}

/** A place of the slider as the lab file has it: '1.234 m', '1.24e-6 kg m^2'. */
export function writeAtSlider(value: number, { decimals, centre }: SliderRange, unit: string): string {
  const size = Math.abs(value);
  const needsPower = decimals > 6 || Math.abs(centre) >= 1e6;
  const exponent = needsPower && size > 0 ? Math.floor(Math.log10(size)) : 0;
  const digits = Math.max(0, Math.min(20, decimals + exponent));
  const number = (value / 10 ** exponent).toFixed(digits);
  return `${number}${exponent === 0 ? '' : `e${exponent}`}${unit === '' ? '' : ` ${unit}`}`;
}
