/**
 * Gauss–Kronrod rule of 10 and 21 points on [-1, 1]: the nodes at and above zero, from zero upwards.
 *
 * Odd places are the Gauss nodes. Computed with 60 digits, then rounded to doubles, from the Legendre and Stieltjes polynomials; they
 * agree with R. Piessens et al., QUADPACK, Springer 1983, routine QK21.
 */
export const NODES: readonly number[] = [
  0, 0.14887433898163122, 0.2943928627014602, 0.4333953941292472, 0.5627571346686047, 0.6794095682990244,
  0.7808177265864169, 0.8650633666889845, 0.9301574913557082, 0.9739065285171717, 0.9956571630258081,
];

export const KRONROD_WEIGHTS: readonly number[] = [
  0.1494455540029169, 0.14773910490133849, 0.14277593857706009, 0.13470921731147334, 0.12349197626206584,
  0.10938715880229764, 0.0931254545836976, 0.07503967481091996, 0.054755896574351995, 0.032558162307964725,
  0.011694638867371874,
];

/** Zero at the nodes that only the larger rule has. */
export const GAUSS_WEIGHTS: readonly number[] = [
  0, 0.29552422471475287, 0, 0.26926671930999635, 0, 0.21908636251598204, 0, 0.1494513491505806, 0,
  0.06667134430868814, 0,
];
