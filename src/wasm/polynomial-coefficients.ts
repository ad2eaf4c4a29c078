/**
 * Polynomials from which the elementary functions are built, lowest power first.
 *
 * Interpolation of the named function at Chebyshev points, worked out with 60 digits (mpmath 1.3) and rounded; the
 * largest error of each stands beside it.
 * Method: J.-M. Muller, Elementary Functions, 3rd ed. (Birkhäuser 2016), chapter 3, DOI 10.1007/978-1-4899-7983-4
 */

/** (sin r / r − 1)/z with z = r², |r| ≤ π/2; error 3.4e-19. */
export const sineTerms = [
  -0.16666666666666666, 0.008333333333333316, -0.00019841269841254974, 2.755731921916323e-6,
  -2.5052107616995878e-8, 1.6058977312444268e-10, -7.643970296165793e-13, 2.73144475909634e-15,
] as const;

/** (exp r − 1 − r)/r², |r| ≤ ln 2 / 2; error 1.4e-18. */
export const exponentialTerms = [
  0.5, 0.1666666666666667, 0.04166666666666667, 0.008333333333326141, 0.0013888888888883752,
  0.00019841269874800512, 2.4801587325533377e-5, 2.7557255425720897e-6, 2.75572736613304e-7,
  2.510520638458724e-8, 2.091467938417506e-9,
] as const;

/** (2 artanh s / s − 2)/z with z = s², |s| ≤ 3 − 2√2; error 3.1e-16. */
export const logarithmTerms = [
  0.666666666666667, 0.39999999999899505, 0.28571428625975515, 0.22222211134790545, 0.181828891255921,
  0.15331721589574307, 0.14616449820782476,
] as const;

/** (arctan x / x − 1)/z with z = x², |x| ≤ √2 − 1; error 1.2e-18. */
export const arcTangentTerms = [
  -0.3333333333333333, 0.19999999999999804, -0.14285714285659828, 0.11111111105155441, -0.09090908753500636,
  0.07692296375025154, -0.06666424885612743, 0.058789289963916344, -0.05230454260021369, 0.04551593172142479,
  -0.03457056073451243, 0.016285755473349803,
] as const;
