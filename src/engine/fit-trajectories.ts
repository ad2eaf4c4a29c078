import { createEvolver } from '../evolve/index.ts';
import { type Fit, type FitOptions, fitByDifferences } from '../inference/index.ts';
import type { Model } from '../model/index.ts';
import { type Outcome, succeed } from '../problem/index.ts';
import { drawStatus } from './asked.ts';
import { createBatchEngine } from './batch-engine.ts';

/** Evenly spaced readings of one signal of a motion. */
export interface TrajectoryReadings {
  /** Index of the signal. */
  readonly signal: number;
  /** Time of the first reading and from one to the next, s. */
  readonly startS: number;
  readonly intervalS: number;
  readonly count: number;
}

export interface TrajectoryFitOptions extends FitOptions {
  readonly signal?: { readonly aborted: boolean };
}

/** Fits free quantities of one model, as often as wanted. */
export interface TrajectoryFitter {
  /**
   * @param p     all parameters of the model, SI; the free ones start from here
   * @param free  indices of the free parameters
   * @param y     the readings, SI
   */
  fit(
    p: Float64Array,
    free: readonly number[],
    y: ArrayLike<number>,
    options?: TrajectoryFitOptions,
  ): Outcome<Fit>;
}

/** Most sets of parameters followed at a time. */
const mostSets = 32;

/**
 * Prepares fits of a model's free quantities to readings along its motion.
 *
 * The batch engine follows the trial values side by side; where a motion is not for it (friction that sticks, jumps), the
 * general evolution follows that motion. A motion that ends before the last reading lies outside the domain.
 *
 * @param relativeTolerance as for the evolution; default 1e-9
 * @returns a fitter; its fits fail and warn as `fitByDifferences`
 */
export function createTrajectoryFitter(
  model: Model,
  readings: TrajectoryReadings,
  relativeTolerance?: number,
): TrajectoryFitter {
  const { signal, startS, intervalS, count } = readings;
  const tolerance = relativeTolerance === undefined ? {} : { relativeTolerance };
  const asked = [{ kind: 'samples', signal, start: startS, interval: intervalS, most: count }] as const;
  const made = createBatchEngine(model, asked, tolerance);
  const engine = made.ok ? made.value : null;
  const result = engine?.makeResult(mostSets);
  const evolver = createEvolver(model);
  const length = model.parameterNames.length;
  const rows = new Float64Array(mostSets * length);

  const followAlone = (row: Float64Array, values: Float64Array): void => {
    const motion = evolver.run(row, tolerance);
    for (let i = 0; i < count; i++) {
      values[i] = motion.ok ? motion.value.signalAt(signal, startS + i * intervalS) : Number.NaN;
    }
  };

  const followSome = (first: number, m: number, values: Float64Array): void => {
    if (engine !== null && result !== undefined) engine.run(rows, m, result);
    for (let set = 0; set < m; set++) {
      const target = values.subarray((first + set) * count, (first + set + 1) * count);
      if (result === undefined || result.status[set] === drawStatus.general) {
        followAlone(rows.subarray(set * length, (set + 1) * length), target);
        continue;
      }
      const [{ count: counts, values: found }] = result.series;
      // A draw that asks for more readings than there is room for has as many as were wanted.
      const isWhole = result.status[set] !== drawStatus.notFinite && counts[set] >= count;
      if (isWhole) target.set(found.subarray(set * count, (set + 1) * count));
      else followAlone(rows.subarray(set * length, (set + 1) * length), target);
    }
  };

  return {
    fit(p, free, y, options = {}) {
      const evaluateMany = (sets: Float64Array, m: number, values: Float64Array): void => {
        for (let first = 0; first < m; first += mostSets) {
          const some = Math.min(mostSets, m - first);
          for (let set = 0; set < some; set++) {
            rows.set(p, set * length);
            for (let j = 0; j < free.length; j++) {
              rows[set * length + free[j]] = sets[(first + set) * free.length + j];
            }
          }
          followSome(first, some, values);
        }
      };
      const fitted = fitByDifferences({
        place: { step: 'fit of a motion' },
        names: free.map((index) => model.parameterNames[index] ?? ''),
        ...options,
        y,
        start: free.map((index) => p[index]),
        evaluateMany,
      });
      return fitted.ok ? succeed(fitted.value, fitted.warnings) : fitted;
    },
  };
}
