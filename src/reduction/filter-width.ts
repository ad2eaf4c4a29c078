import { cosine, power, sine } from '../wasm/index.ts';
import { LOCAL_DEGREE, localPolynomialWeights, taper } from './local-polynomial.ts';

/** Least half width, in spacings: five readings, of which the outermost still count. */
const LEAST_WIDTH = 2.05;
const MOST_READINGS = 20_000;

/** Half widths by bandwidth, spacing and order: thousands of simulated runs ask for the same few. */
export class FilterWidths {
  readonly #last = new Map<number, { bandwidthHz: number; spacingS: number; width: number | null }>();

  /** As `halfWidthFor`; spacings that differ in the eleventh digit count as the same. */
  find(bandwidthHz: number, spacingS: number, order: number): number | null {
    const last = this.#last.get(order);
    const isSame =
      last !== undefined &&
      last.bandwidthHz === bandwidthHz &&
      Math.abs(last.spacingS - spacingS) <= 1e-11 * spacingS;
    if (isSame) return last.width;
    const width = halfWidthFor(bandwidthHz, spacingS, order);
    this.#last.set(order, { bandwidthHz, spacingS, width });
    return width;
  }
}

/**
 * Half width of the window whose local polynomial lets a frequency pass at 1/√2 (−3 dB) of what an ideal
 * derivative of that order would give.
 *
 * @param bandwidthHz the frequency
 * @param spacingS    between readings
 * @param order       of the derivative; 0 is the value
 * @returns half width in s; null where the readings are too far apart for this bandwidth
 */
function halfWidthFor(bandwidthHz: number, spacingS: number, order: number): number | null {
  const frequency = bandwidthHz * spacingS;
  const passes = (halfWidth: number): number => response(frequency, halfWidth, order);
  let low = LEAST_WIDTH;
  if (passes(low) < Math.SQRT1_2) return null;
  let high = low;
  while (passes(high) >= Math.SQRT1_2) {
    low = high;
    high *= 1.5;
    if (high > MOST_READINGS) return low * spacingS;
  }
  while (high - low > 1e-10 * high) {
    const middle = 0.5 * (low + high);
    if (passes(middle) >= Math.SQRT1_2) low = middle;
    else high = middle;
  }
  return low * spacingS;
}

/** Highest bandwidth that readings at this spacing allow for a derivative of this order, in Hz. */
export function highestBandwidth(spacingS: number, order: number): number {
  let low = 0;
  let high = 0.5;
  for (let round = 0; round < 40; round++) {
    const middle = 0.5 * (low + high);
    if (response(middle, LEAST_WIDTH, order) >= Math.SQRT1_2) low = middle;
    else high = middle;
  }
  return low / spacingS;
}

/** Weights of readings at even spacing, for a half width in spacings; the middle one is in the middle. */
export function evenWeights(halfWidth: number, order: number): Float64Array {
  const reach = Math.ceil(halfWidth) - 1;
  const places = Float64Array.from({ length: 2 * reach + 1 }, (_, i) => (i - reach) / halfWidth);
  const weights = localPolynomialWeights(places, places.map(taper), LOCAL_DEGREE, order);
  const scale = power(halfWidth, -order);
  for (let i = 0; i < weights.length; i++) weights[i] *= scale;
  return weights;
}

/** What passes of a wave, against an ideal derivative; the frequency in waves per spacing. */
function response(frequency: number, halfWidth: number, order: number): number {
  const weights = evenWeights(halfWidth, order);
  const reach = (weights.length - 1) / 2;
  const phase = 2 * Math.PI * frequency;
  let sum = 0;
  // Even derivatives weigh both sides alike, odd ones with opposite signs: only one part of the wave is left.
  for (let i = 0; i < weights.length; i++) {
    const angle = phase * (i - reach);
    sum += weights[i] * (order % 2 === 0 ? cosine(angle) : sine(angle));
  }
  const sign = order % 4 < 2 ? 1 : -1;
  return (sign * sum) / power(phase, order);
}
