/**
 * Half a unit of the last of the significant digits in which a standard uncertainty is stated: the numerical
 * tolerance that its computation need not undercut.
 *
 * @param digits 1 or 2
 * @returns δ in the unit of u; 0 for u = 0
 * Source: JCGM 101:2008, 7.9.2
 */
export function numericalTolerance(u: number, digits: number): number {
  if (!(u > 0)) return 0;
  // Rounding can carry into the next power of ten: 9.96 to two digits is 10.
  const exponent = Number(u.toExponential(digits - 1).split('e')[1]) - (digits - 1);
  return 0.5 * 10 ** exponent;
}
