const LARGEST_COUNT = 100;

/**
 * The place where a continuous function changes sign, to `tolerance`.
 *
 * Bisection, or inverse quadratic interpolation where that is safe.
 *
 * @param evaluate any function of one number; its values at `from` and `to` must not have the same sign
 * @param from, to the bracket, in either order, and the values there
 * @returns a place at most `tolerance` from the sign change, on the side of `to`
 * Source: T. R. Chandrupatla 1997, Adv. Eng. Software 28, 145, DOI 10.1016/S0965-9978(96)00051-8
 */
export function findSignChange(
  evaluate: (place: number) => number,
  from: number,
  valueFrom: number,
  to: number,
  valueTo: number,
  tolerance: number,
): number {
  let a = to;
  let fa = valueTo;
  let b = from;
  let fb = valueFrom;
  let c = b;
  let fc = fb;
  let share = 0.5;
  const signTo = Math.sign(valueTo);
  for (let count = 0; count < LARGEST_COUNT; count++) {
    const x = a + share * (b - a);
    const fx = evaluate(x);
    if (Math.sign(fx) === Math.sign(fa)) {
      c = a;
      fc = fa;
    } else {
      c = b;
      b = a;
      fc = fb;
      fb = fa;
    }
    a = x;
    fa = fx;
    if (fa === 0 || Math.abs(b - a) <= 2 * tolerance) break;
    const least = tolerance / Math.abs(b - a);
    const xi = (a - b) / (c - b);
    const phi = (fa - fb) / (fc - fb);
    const interpolates = phi * phi < xi && (1 - phi) * (1 - phi) < 1 - xi;
    const proposed = interpolates
      ? (fa / (fb - fa)) * (fc / (fb - fc)) + ((((c - a) / (b - a)) * fa) / (fc - fa)) * (fb / (fc - fb))
      : 0.5;
    share = Math.min(1 - least, Math.max(least, proposed));
  }
  if (fa === 0) return a;
  return Math.sign(fa) === signTo ? a : b;
}
