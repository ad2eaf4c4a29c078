import { chiSquareProbability, chiSquareTail } from '../inference/index.ts';
import type { Column, SharedErrors } from '../instrument/index.ts';
import { type Place, type Problem, warning } from '../problem/index.ts';
import { ErrorShape } from './error-shape.ts';
import { dot, orthonormalise, type TriangularDesign } from './orthonormal-design.ts';
import { scaleOfScatter } from './scale-of-scatter.ts';
import { compareWithSlowPatterns, type SlowPatterns } from './slow-patterns.ts';
import { spreadOfResiduals } from './spread-of-residuals.ts';

/** Below this chance a finding is told to the reader. */
const IMPROBABLE = 0.01;

/** A least-squares fit whose uncertainty is to be judged. */
export interface FitToJudge {
  /** k columns of n: derivative of the fitted value of each reading with respect to each parameter. */
  readonly design: readonly Float64Array[];
  /** reading − fitted value. */
  readonly residuals: Float64Array;
  /** Standard uncertainty of each reading that weighted it; null where all counted alike. */
  readonly statedU: Float64Array | null;
  /** How the errors of the readings hang together; null for independent ones. */
  readonly shared: SharedErrors | null;
  readonly place: Place;
}

/** What a fit's uncertainty is and where it is from. */
export interface Judgement {
  /** k×k, row-major. */
  readonly covariance: Float64Array;
  readonly degreesOfFreedom: number;
  readonly reducedChiSquare: number | null;
  readonly uncertaintyFrom: 'scatter' | 'stated';
  /** In sentences, for the report. */
  readonly statement: string;
  readonly notes: readonly Problem[];
}

/**
 * Covariance of the parameters of a least-squares fit when its readings share errors.
 *
 * The fit itself is the ordinary one, so that a class can repeat it; only its uncertainty takes account of the
 * covariance V of the readings: (XᵀWX)⁻¹·XᵀWVWX·(XᵀWX)⁻¹. Stated uncertainties give V in full and are not
 * scaled. Without, V is known up to a factor, which the residuals give, with the effective degrees of freedom
 * of a sum of correlated squares. Independent readings of one size come out as usual.
 *
 * V may be wrong: the scatter may be from something else than the errors that readings share. Where the
 * residuals are spread over readings of large and small variance as V would not have it, or are stronger along
 * slow patterns (from one half wave over the rows) than V explains, with a chance below 1 %, the readings are
 * taken as independent and alike. Where even so the slow patterns are too strong, the law bends or the readings
 * hang together in another way: the uncertainty from scatter is then found from the slow patterns alone, and
 * the reader is told.
 *
 * Sources: sandwich form: P. J. Huber, Proc. Fifth Berkeley Symp. 1 (1967) 221; effective degrees of freedom:
 * F. E. Satterthwaite, Biometrics Bull. 2 (1946) 110, doi:10.2307/3002019; slow patterns: U. K. Müller,
 * J. Bus. Econ. Stat. 32 (2014) 311, doi:10.1080/07350015.2014.931238 (from memory).
 */
export function judgeFit(fit: FitToJudge): Judgement {
  const n = fit.residuals.length;
  const roots = new Float64Array(n).fill(1);
  if (fit.statedU !== null) for (let i = 0; i < n; i++) roots[i] = 1 / fit.statedU[i];
  const design = orthonormalise(fit.design, roots);
  const weighted = fit.residuals.map((residual, i) => residual * roots[i]);
  return fit.statedU === null
    ? judgeByScatter(fit, design, weighted)
    : judgeByStated(fit, design, weighted, shapeOfStated(fit.shared, fit.statedU));
}

function shapeOfStated(shared: SharedErrors | null, u: Float64Array): ErrorShape {
  const n = u.length;
  if (shared === null) return new ErrorShape(null, new Float64Array(n).fill(1), null);
  const row = new Float64Array(shared.width);
  const size = shared.family.standardUncertainty;
  // What of a reading's variance is not shared stands for itself.
  const own = u.map((each, i) => {
    shared.row(i, row);
    let variance = 0;
    for (const coefficient of row) variance += (size * coefficient) ** 2;
    return Math.max(0, 1 - variance / each ** 2);
  });
  return new ErrorShape(
    shared,
    u.map((each) => size / each),
    own.every((share) => share < 1e-9) ? null : own,
  );
}

function judgeByScatter(fit: FitToJudge, design: TriangularDesign, residuals: Float64Array): Judgement {
  const ones = new Float64Array(residuals.length).fill(1);
  if (fit.shared !== null && !areAlike(fit.shared, residuals.length)) {
    const shape = new ErrorShape(fit.shared, ones, null);
    const { factor, degreesOfFreedom, chance } = scaleOfScatter(residuals, design, shape);
    const slow = compareWithSlowPatterns(residuals, design, shape, factor, degreesOfFreedom);
    if (chance >= IMPROBABLE && (slow === null || slow.chance >= IMPROBABLE)) {
      return {
        covariance: design.toParameters(covarianceOf(design, shape), factor),
        degreesOfFreedom,
        reducedChiSquare: null,
        uncertaintyFrom: 'scatter',
        statement: `The uncertainty is from the scatter of the readings (${formatFreedom(degreesOfFreedom)} degrees of freedom); that neighbouring readings share errors, and that some are better known than others, is taken into account.`,
        notes: [],
      };
    }
  }
  const shape = new ErrorShape(null, ones, null);
  const freedom = residuals.length - fit.design.length;
  const factor = dot(residuals, residuals) / freedom;
  const slow = compareWithSlowPatterns(residuals, design, shape, factor, freedom);
  if (slow === null || slow.chance >= IMPROBABLE) {
    return {
      covariance: design.toParameters(covarianceOf(design, shape), factor),
      degreesOfFreedom: freedom,
      reducedChiSquare: null,
      uncertaintyFrom: 'scatter',
      statement: `The uncertainty is from the scatter of the readings (${freedom} degrees of freedom), which are taken as independent and alike.`,
      notes: [],
    };
  }
  return {
    covariance: design.toParameters(covarianceOf(design, shape), factor * slow.ratio),
    degreesOfFreedom: slow.count,
    reducedChiSquare: null,
    uncertaintyFrom: 'scatter',
    statement: 'The uncertainty is from the slow part of the scatter of the readings.',
    notes: [bendingNote(slow, fit.place, ' The uncertainty is enlarged accordingly.')],
  };
}

function bendingNote(slow: SlowPatterns, place: Place, consequence: string): Problem {
  return warning(
    'residuals-bend',
    place,
    `the residuals change slowly from reading to reading, ${Math.sqrt(slow.ratio).toPrecision(2)} times as strongly as independent errors would (chance ${formatChance(slow.chance)}).${consequence}`,
    'Look at the residuals: a bend means that the law is another, or that the window is too wide.',
  );
}

/** k×k covariance of the numbers Qᵀ·√W·y. */
function covarianceOf(design: TriangularDesign, shape: ErrorShape): Float64Array {
  const { q } = design;
  const gathered = q.map((direction) => shape.gather(direction));
  return Float64Array.from({ length: q.length ** 2 }, (_, index) => {
    const a = Math.floor(index / q.length);
    const b = index % q.length;
    return shape.covariance(q[a], gathered[a], q[b], gathered[b]);
  });
}

/** Whether each row has one error of its own, all of one size. */
function areAlike(shared: SharedErrors, rows: number): boolean {
  if (shared.width > 1) return false;
  const row = new Float64Array(1);
  shared.row(0, row);
  const first = row[0];
  for (let i = 1; i < rows; i++) {
    shared.row(i, row);
    if (row[0] !== first) return false;
  }
  return true;
}

function judgeByStated(
  fit: FitToJudge,
  design: TriangularDesign,
  residuals: Float64Array,
  shape: ErrorShape,
): Judgement {
  const ones = new Float64Array(residuals.length).fill(1);
  const spread = spreadOfResiduals(shape, ones, design.q);
  const covariance = design.toParameters(covarianceOf(design, shape), 1);
  const isFree = residuals.length > fit.design.length;
  const factor = dot(residuals, residuals) / spread.expected;
  return {
    covariance,
    degreesOfFreedom: Infinity,
    reducedChiSquare: isFree ? factor : null,
    uncertaintyFrom: 'stated',
    statement:
      'The uncertainty is from the stated uncertainties of the readings; it is not scaled by reduced chi-square.',
    notes: isFree ? notesOnStated(fit, design, residuals, shape, factor, spread.degreesOfFreedom) : [],
  };
}

function notesOnStated(
  fit: FitToJudge,
  design: TriangularDesign,
  residuals: Float64Array,
  shape: ErrorShape,
  factor: number,
  degreesOfFreedom: number,
): Problem[] {
  const notes: Problem[] = [];
  const chiSquare = factor * degreesOfFreedom;
  const above = chiSquareTail(chiSquare, degreesOfFreedom);
  const below = chiSquareProbability(chiSquare, degreesOfFreedom);
  const found = `reduced chi-square is ${factor.toPrecision(3)} with ${formatFreedom(degreesOfFreedom)} degrees of freedom`;
  if (above < IMPROBABLE) {
    notes.push(
      warning(
        'scatter-above-stated',
        fit.place,
        `${found} (chance ${formatChance(above)}): the readings scatter more than their stated uncertainties. The result's uncertainty is from the stated ones and not enlarged.`,
        'Is an uncertainty left out, or is the law another?',
      ),
    );
  } else if (below < IMPROBABLE) {
    notes.push(
      warning(
        'scatter-below-stated',
        fit.place,
        `${found} (chance ${formatChance(below)}): the readings scatter less than their stated uncertainties. The result's uncertainty is from the stated ones.`,
        'Is an uncertainty common to all readings, so that it does not make them scatter?',
      ),
    );
  }
  const slow = compareWithSlowPatterns(residuals, design, shape, 1, Infinity);
  if (slow !== null && slow.chance < IMPROBABLE) notes.push(bendingNote(slow, fit.place, ''));
  return notes;
}

/** The standard uncertainty of each reading, one a row; null where none is stated. */
export function statedUncertainty(column: Column): Float64Array | null {
  const { u } = column;
  if (typeof u === 'number') return u > 0 ? new Float64Array(column.values.length).fill(u) : null;
  return u.some((each) => each > 0) ? u : null;
}

function formatChance(chance: number): string {
  return chance < 1e-4 ? 'below 0.0001' : chance.toPrecision(1);
}

function formatFreedom(degreesOfFreedom: number): string {
  return degreesOfFreedom.toFixed(Number.isInteger(Math.round(degreesOfFreedom * 10) / 10) ? 0 : 1);
}
