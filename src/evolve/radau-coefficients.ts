/**
 * Coefficients of the implicit Runge–Kutta method Radau IIA of order 5, three stages.
 *
 * The matrix of the method is split as T⁻¹A⁻¹T = diag(γ, [[α, −β], [β, α]]), so that one real and one complex system
 * of n equations stand for one of 3n.
 *
 * Source: E. Hairer, G. Wanner, Solving Ordinary Differential Equations II, 2nd ed. (Springer 1996), IV.5 and IV.8,
 * DOI 10.1007/978-3-642-05221-7; T and its inverse rounded to binary64.
 */
const root6 = Math.sqrt(6);

/** Places of the stages in the step. */
export const places = [(4 - root6) / 10, (4 + root6) / 10, 1] as const;

/** Powers of 3, rounded to the nearest binary64. */
const three = {
  third: 1.4422495703074083,
  twoThirds: 2.080083823051904,
  fiveSixths: 2.498049532966813,
  sevenSixths: 3.602810865528008,
} as const;

/** Real eigenvalue γ of A⁻¹, and the parts of the complex pair α ± iβ. */
export const gamma = 3 + three.twoThirds - three.third;
export const alpha = 3 + 0.5 * (three.third - three.twoThirds);
export const beta = -0.5 * (three.fiveSixths + three.sevenSixths);

/** Weights of the stages in the error estimate. */
export const errorWeights = [(-13 - 7 * root6) / 3, (-13 + 7 * root6) / 3, -1 / 3] as const;

/** From transformed to plain stages; the last row is 1, 1, 0. */
export const transform = [
  [0.09443876248897524, -0.1412552950209542, 0.03002919410514742],
  [0.2502131229653333, 0.20412935229379994, -0.3829421127572619],
  [1, 1, 0],
] as const;

/** From plain to transformed stages. */
export const inverseTransform = [
  [4.178718591551904, 0.32768282076106237, 0.5233764454994495],
  [-4.178718591551904, -0.32768282076106237, 0.47662355450055044],
  [0.5028726349457868, -2.571926949855605, 0.5960392048282249],
] as const;

/** The polynomial through the stages: row i holds what stage i gives to θ, θ², θ³. */
export const polynomial = [
  [(13 + 7 * root6) / 3, (-23 - 22 * root6) / 3, 10 / 3 + 5 * root6],
  [(13 - 7 * root6) / 3, (-23 + 22 * root6) / 3, 10 / 3 - 5 * root6],
  [1 / 3, -8 / 3, 10 / 3],
] as const;
