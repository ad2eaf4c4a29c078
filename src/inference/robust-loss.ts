import { lnOfOneMore } from '../wasm/index.ts';
/**
 * How a residual counts, given in units of its scale: 'squares' is plain least squares; 'huber' counts large
 * residuals by their size, 'cauchy' by the logarithm of their square, so that strays pull little.
 */
export type LossName = 'squares' | 'huber' | 'cauchy';

export interface Loss {
  readonly name: LossName;
  /** ρ of the squared scaled residual z = (r/scale)²; ρ(z) ≈ z near 0. */
  cost(z: number): number;
  /** dρ/dz: the weight of the residual, 1 at 0. */
  weight(z: number): number;
  /** Derivative of residual·weight by the residual, 1 at 0. */
  slope(z: number): number;
}

export function lossOf(name: LossName): Loss {
  return LOSSES[name];
}

// The size of residual, in units of its scale, beyond which it is a stray. The usual choices keep 95 % of the
// efficiency of least squares for normal errors (Huber and Ronchetti, Robust Statistics, 2009; Holland and
// Welsch, Commun. Stat. A 6 (1977) 813–827).
const HUBER = 1.345;
const CAUCHY = 2.385;

const LOSSES: Readonly<Record<LossName, Loss>> = {
  squares: { name: 'squares', cost: (z) => z, weight: () => 1, slope: () => 1 },
  huber: {
    name: 'huber',
    cost: (z) => (z <= HUBER * HUBER ? z : 2 * HUBER * Math.sqrt(z) - HUBER * HUBER),
    weight: (z) => (z <= HUBER * HUBER ? 1 : HUBER / Math.sqrt(z)),
    slope: (z) => (z <= HUBER * HUBER ? 1 : 0),
  },
  cauchy: {
    name: 'cauchy',
    cost: (z) => CAUCHY * CAUCHY * lnOfOneMore(z / (CAUCHY * CAUCHY)),
    weight: (z) => 1 / (1 + z / (CAUCHY * CAUCHY)),
    slope: (z) => (1 - z / (CAUCHY * CAUCHY)) / (1 + z / (CAUCHY * CAUCHY)) ** 2,
  },
};

/**
 * Scale of residuals from the median of their sizes, which strays hardly move: 1.4826·median|r|, the standard
 * deviation of a normal distribution with that median.
 *
 * Source: Hampel, J. Am. Stat. Assoc. 69 (1974) 383–393
 */
export function medianScale(residuals: Float64Array): number {
  const sizes = residuals.map(Math.abs).sort();
  const middle = sizes.length >> 1;
  const median = sizes.length % 2 === 1 ? sizes[middle] : (sizes[middle - 1] + sizes[middle]) / 2;
  return 1.482602218505602 * median;
}
