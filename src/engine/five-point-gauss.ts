/**
 * Places in [−1, 1] and weights of the five-point Gauss rule: exact for polynomials of degree 9.
 *
 * Source: DLMF, table 3.5.2
 */
export const fivePointGauss: readonly (readonly [place: number, weight: number])[] = [
  [-0.906179845938664, 0.2369268850561891],
  [-0.5384693101056831, 0.4786286704993665],
  [0, 0.5688888888888889],
  [0.5384693101056831, 0.4786286704993665],
  [0.906179845938664, 0.2369268850561891],
];
