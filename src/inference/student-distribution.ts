import { power } from '../wasm/index.ts';
import { betaFactor, incompleteBeta } from './incomplete-beta.ts';
import { invertProbability } from './invert-probability.ts';
import { normalProbability, normalTail } from './normal-distribution.ts';
import { normalQuantile } from './normal-quantile.ts';

/** From here on Student's t and the normal distribution differ by less than 1e-13 within ten deviations. */
const AS_GOOD_AS_NORMAL = 1e17;

/** Where |t| exceeds this many √ν, the tail is a plain power of t to the last digit. */
const POWER_LAW_FROM = 1e8;

/** Density of Student's t distribution. */
export function studentDensity(t: number, degreesOfFreedom: number): number {
  const v = degreesOfFreedom;
  const root = Math.sqrt(v);
  // At t = 0 the limit is taken from a t too small to matter.
  const size = Math.max(Math.abs(t), 1e-150 * root);
  if (size > POWER_LAW_FROM * root) {
    const edge = POWER_LAW_FROM * root;
    return studentDensity(edge, v) * power(size / edge, -v - 1);
  }
  const { x, y } = shares(size, v);
  return betaFactor(0.5, v / 2, y, x) / size;
}

/**
 * Probability that Student's t exceeds a value.
 *
 * @param degreesOfFreedom > 0, need not be whole; Infinity gives the normal distribution
 * Relative error about 1e-14 in either tail; the lower tail is `studentTail(-t, …)`.
 */
export function studentTail(t: number, degreesOfFreedom: number): number {
  if (!(degreesOfFreedom > 0)) return Number.NaN;
  if (degreesOfFreedom >= AS_GOOD_AS_NORMAL) return normalTail(t);
  const upper = outside(Math.abs(t), degreesOfFreedom) / 2;
  return t < 0 ? 1 - upper : upper;
}

/** Probability that |T| exceeds t. */
function outside(t: number, v: number): number {
  const edge = POWER_LAW_FROM * Math.sqrt(v);
  if (t > edge) return outside(edge, v) * power(t / edge, -v);
  const { x, y } = shares(t, v);
  return incompleteBeta(v / 2, 0.5, x, y).lower;
}

/** Probability that |T| stays below t. */
function inside(t: number, v: number): number {
  const { x, y } = shares(t, v);
  return incompleteBeta(0.5, v / 2, y, x).lower;
}

/** ν/(ν + t²) and t²/(ν + t²). */
function shares(t: number, v: number): { x: number; y: number } {
  const ratio = t / Math.sqrt(v);
  const square = ratio * ratio;
  return { x: 1 / (1 + square), y: square / (1 + square) };
}

/**
 * The t below which Student's t falls with probability p.
 *
 * @param p 0 to 1; ∓Infinity at the ends, NaN outside. For a small upper tail q: `-studentQuantile(q, …)`
 * @param degreesOfFreedom > 0, need not be whole; Infinity gives the normal quantile
 */
export function studentQuantile(p: number, degreesOfFreedom: number): number {
  const v = degreesOfFreedom;
  if (!(v > 0)) return Number.NaN;
  const z = normalQuantile(p);
  if (v >= AS_GOOD_AS_NORMAL || !Number.isFinite(z) || z === 0) return z;
  const tail = 2 * Math.min(p, 1 - p);
  const edge = POWER_LAW_FROM * Math.sqrt(v);
  const far = edge * power(outside(edge, v) / tail, 1 / v);
  if (far > edge) return z < 0 ? -far : far;
  const start = firstGuess(Math.abs(z), far, v);
  const density = (t: number) => 2 * studentDensity(t, v);
  const t =
    Math.abs(p - 0.5) < 0.25
      ? invertProbability(2 * Math.abs(p - 0.5), (t) => inside(t, v), density, 'rising', start)
      : invertProbability(tail, (t) => outside(t, v), density, 'falling', start);
  return z < 0 ? -t : t;
}

/** Cornish–Fisher's first terms near the middle, the power law of the far tail beyond. */
function firstGuess(z: number, far: number, v: number): number {
  const near = z + (z * z * z + z) / (4 * v);
  return z * z < 2 * v || !(far > 0 && far < Number.POSITIVE_INFINITY) ? near : Math.max(z, far);
}

/** Probability that Student's t falls below a value. */
export function studentProbability(t: number, degreesOfFreedom: number): number {
  return degreesOfFreedom === Number.POSITIVE_INFINITY
    ? normalProbability(t)
    : studentTail(-t, degreesOfFreedom);
}
