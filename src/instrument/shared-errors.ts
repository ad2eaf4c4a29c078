/**
 * How the errors of a column's rows come from independent errors that several rows share.
 *
 * Row i has the error Σ cᵢₖ·eₖ over a few neighbouring k; the eₖ are independent, with the standard deviation
 * `standardUncertainty` (0 where none is stated: the shape is still known, and scatter can give the size).
 * A speed taken from three edges, for one, has the timing errors of these three.
 */
export interface SharedErrors {
  /** Columns with the same family have the same eₖ. */
  readonly family: ErrorFamily;
  /** Most coefficients that a row has. */
  readonly width: number;
  /** Writes the `width` coefficients of row i to out[0] … (zeros where it has fewer); gives the k of the first. */
  row(i: number, out: Float64Array): number;
}

/** Independent errors of one size: those of the stamps of one run, for instance. */
export interface ErrorFamily {
  readonly count: number;
  /** Standard deviation of each, in the unit of what is stamped or read. */
  readonly standardUncertainty: number;
}
