import { randomSource } from '../inference/index.ts';
import type { Pipeline, Setting, TrialRun } from '../lab/index.ts';
import { withValues } from '../lab/index.ts';
import type { Outcome, Problem } from '../problem/index.ts';
import { fail, problem, succeed } from '../problem/index.ts';
import { createManyRuns, groupRuns, listOutputs, mainGroup } from '../run/index.ts';
import { type Analysis, measureGroupShifts } from './analysis.ts';
import { drawDeviations } from './draw-deviations.ts';
import { createDrawMeasured, quantitiesOfReduction } from './draw-measured.ts';
import { drawModel } from './draw-model.ts';
import { Cancelled, type Work } from './effect-model.ts';
import { followMeasurement } from './follow-measurement.ts';
import type { LedgerOutline, Reconciliation } from './gap-ledger.ts';
import { createGathering, scalarsBehind } from './gather-points.ts';
import { createLabModel, type LabEffectModel } from './lab-model.ts';
import { createMeasure, type MeasuredOutput, measureOutputs } from './measured.ts';
import type { EvaluateMany } from './response.ts';
import { measureRunChance } from './run-chance.ts';
import { type DrawnShares, drawByModel, predictSubsets } from './shares.ts';
import { applyPlan, planAllOrders, planSampledOrders, type SubsetPlan } from './subset-plan.ts';
import { theoryValues } from './theories.ts';
import { writeLedgers } from './write-ledgers.ts';

export interface ReconcileOptions extends Work {
  /**
   * Draws of the uncertain quantities; where left out, 1000 through the second-order response, or 128 through the
   * model itself where the response does not stand.
   */
  readonly draws?: number;
  readonly seed?: number;
  /** Runs the model itself at every draw, without the quick way. */
  readonly everyDraw?: boolean;
  /** Values in place of the author's, as a dragged slider sets them; uncertainties stay. */
  readonly values?: readonly Setting[];
}

export interface ReconcilerOptions {
  /**
   * Relative tolerance of the batch engine, 1e-9 where left out. A ledger that follows a slider may do with
   * 1e-6: its shares are then good to about 2e-5 of a slope, since a speed is a difference of places, which enlarges
   * the error of each place.
   */
  readonly relativeTolerance?: number;
  /** Orders of switching on that are drawn where there are more than ten effects; an even number, 256 where left out. */
  readonly orders?: number;
}

/** The ledgers of one lab and its trials, with everything kept that does not depend on values. */
export interface Reconciler {
  /** The gap ledger of every result, or the problems that prevent it. Throws `Cancelled` where asked to stop. */
  reconcile(options?: ReconcileOptions): Outcome<Reconciliation>;
  /** The lines of every ledger without their uncertainties: a first answer while the rest is worked out. */
  outline(options?: ReconcileOptions): Outcome<readonly LedgerOutline[]>;
  /**
   * Runs the model at some of the draws of `reconcile` with the same `draws`, `seed` and `values`, as a worker does.
   *
   * @returns rows `from` to `to` (without), whose order no division into parts changes; bits neither
   */
  drawPart(options: ReconcileOptions, from: number, to: number): Outcome<DrawnShares>;
  /** `reconcile` with `everyDraw`, from parts that together hold every draw, in order. */
  reconcileParts(options: ReconcileOptions, parts: readonly DrawnShares[]): Outcome<Reconciliation>;
}

/** Draws through the second-order response, which cost next to nothing. */
const RESPONSE_DRAWS = 1000;
/** Draws of the model itself where the quick way does not stand: each costs one run a subset and a group. */
const MODEL_DRAWS = 128;
/** Up to this many effects every subset is run; beyond, orders are drawn. */
const MOST_EXACT = 10;
const USUAL_ORDERS = 256;
/** The orders are part of what the ledger is; only the draws follow the seed. */
const ORDER_SEED = 20_953;

/**
 * Makes what reconciles one lab with its trials again and again: equations and reduction are compiled once, so that
 * other values cost runs alone.
 *
 * The pipeline holds work space, so a reconciler belongs to one thread.
 */
export function createReconciler(
  pipeline: Pipeline,
  trials: readonly TrialRun[],
  options: ReconcilerOptions = {},
): Outcome<Reconciler> {
  const { lab } = pipeline;
  const count = lab.effects.length;
  const groups = groupRuns(lab, trials);
  const outputs = listOutputs(lab, groups);
  if (outputs.length === 0) {
    return fail(
      problem(
        'no-results',
        { file: lab.file },
        'The lab names no results, so there is nothing to compare.',
        'Add "results" to the lab file.',
      ),
    );
  }
  const pairs = Math.max(2, Math.round((options.orders ?? USUAL_ORDERS) / 2));
  const plan =
    count <= MOST_EXACT ? planAllOrders(count) : planSampledOrders(count, pairs, randomSource(ORDER_SEED));
  const names = scalarsBehind(pipeline, outputs);
  const runs = createManyRuns(pipeline, groups, names, options.relativeTolerance);
  const readByReduction = quantitiesOfReduction(lab);
  let lastDrawn: { readonly key: string; readonly found: Outcome<Float64Array> } | null = null;
  let lastMeasured: {
    readonly key: string;
    readonly found: Outcome<readonly (MeasuredOutput | null)[]>;
  } | null = null;

  const drawMeasured = createDrawMeasured(readByReduction, outputs.length);

  /** Values of the quantities that the reduction reads: the trials' own part changes with nothing else. */
  const keyOfReduction = (at: Pipeline): string =>
    [...readByReduction].map((index) => at.nominal[index]).join(' ');
  const measuredAt = (at: Pipeline): Outcome<readonly (MeasuredOutput | null)[]> => {
    const key = keyOfReduction(at);
    if (lastMeasured?.key !== key) lastMeasured = { key, found: measureOutputs(at, groups, outputs) };
    return lastMeasured.found;
  };

  const workAt = (given: ReconcileOptions): Bench => {
    const at = withValues(pipeline, given.values ?? []);
    const gather = createGathering(at, groups, outputs, names, runs.width);
    const model = createLabModel(at, runs, groups, outputs, names, gather);
    return { at, model, measure: createMeasure(at, runs, groups, gather, model.baseAt, outputs.length) };
  };
  const deviationsOf = ({ at, model }: Bench, given: ReconcileOptions): Outcome<Float64Array> => {
    const draws = given.draws ?? RESPONSE_DRAWS;
    const seed = given.seed ?? 1;
    const key = `${draws} ${seed}`;
    if (lastDrawn?.key === key) return lastDrawn.found;
    const found = drawDeviations(at.lab, model.uncertain, draws, randomSource(seed));
    lastDrawn = { key, found };
    return found;
  };

  const finish = (given: ReconcileOptions, done: DrawnShares | null): Outcome<Reconciliation> => {
    const bench = workAt(given);
    const { at, model, measure } = bench;
    const measured = measuredAt(at);
    if (!measured.ok) return measured;
    const subsets = predictSubsets(model, plan, model.nominal, given);
    if (subsets === null) return fail(...firstProblem(model));
    const deviations = deviationsOf(bench, given);
    if (!deviations.ok) return deviations;
    const request = {
      modelDraws: given.draws ?? (given.everyDraw === true ? RESPONSE_DRAWS : MODEL_DRAWS),
      mayThinOut: given.draws === undefined && given.everyDraw !== true,
      always: given.everyDraw === true || done !== null,
      done,
    };
    const drawn = drawModel(model, plan, deviations.value, request, given);
    const stepShifts = measureGroupShifts(at, groups);
    if (!stepShifts.ok) return stepShifts;
    const chance = measureRunChance(at, groups, outputs, plan, model);
    if (!chance.ok) return chance;
    const analysis: Analysis = {
      pipeline: at,
      groups,
      outputs,
      model,
      plan,
      subsets,
      drawn,
      deviations: deviations.value,
      measured: measured.value,
      chance: chance.value,
      drawMeasured: drawMeasured(model, measure, `${keyOfReduction(at)} | ${given.seed} ${given.draws}`),
      stepShifts: stepShifts.value,
    };
    const ledgers = writeLedgers(analysis, followMeasurement(analysis));
    const own = mainGroup(groups, at.lab);
    const main = new Map<string, number>();
    outputs.forEach(({ result, group }, index) => {
      if (group === null || group === own) main.set(result.name, index);
    });
    const orders = plan.sampled === null ? 'all' : plan.sampled.count;
    return succeed({ ledgers, main, method: { ...drawn.method, orders } }, measured.warnings);
  };

  return succeed({
    reconcile: (given = {}) => finish(given, null),
    outline(given = {}) {
      const { at, model } = workAt(given);
      const measured = measuredAt(at);
      if (!measured.ok) return measured;
      const subsets = predictSubsets(model, plan, model.nominal, given);
      if (subsets === null) return fail(...firstProblem(model));
      return succeed(outlineOf(at, plan, subsets, measured.value), measured.warnings);
    },
    drawPart(given, from, to) {
      const bench = workAt(given);
      const deviations = deviationsOf(bench, given);
      if (!deviations.ok) return deviations;
      const inputs = bench.model.nominal.length;
      const part = deviations.value.subarray(from * inputs, to * inputs);
      return succeed(drawByModel(bench.model, plan, part, given));
    },
    reconcileParts: (given, parts) => finish(given, joinParts(parts)),
  });

  function outlineOf(
    at: Pipeline,
    { effects }: SubsetPlan,
    subsets: Float64Array,
    measured: readonly (MeasuredOutput | null)[],
  ): readonly LedgerOutline[] {
    const width = outputs.length;
    const shares = new Float64Array(width * effects);
    applyPlan(plan, subsets, width, shares);
    const theory = new Float64Array(width);
    theoryValues(at, groups, outputs, at.nominal, theory);
    return outputs.map(({ result, group }, index) => ({
      result,
      group: group === null ? null : (groups[group]?.label ?? null),
      theory: result.theory === null ? null : theory[index],
      ideal: subsets[index],
      effects: at.lab.effects.map(({ name }, effect) => ({
        effect: name,
        share: shares[index * effects + effect],
      })),
      full: subsets[subsets.length - width + index],
      measured: measured[index]?.value ?? null,
    }));
  }
}

/** A lab with certain values, and what is worked out with them. */
interface Bench {
  readonly at: Pipeline;
  readonly model: LabEffectModel;
  readonly measure: EvaluateMany | null;
}

/** Rows of several parts, one after another. */
function joinParts(parts: readonly DrawnShares[]): DrawnShares {
  const join = (arrays: readonly Float64Array[]): Float64Array => {
    const all = new Float64Array(arrays.reduce((sum, { length }) => sum + length, 0));
    let at = 0;
    for (const array of arrays) {
      all.set(array, at);
      at += array.length;
    }
    return all;
  };
  return {
    ideal: join(parts.map(({ ideal }) => ideal)),
    full: join(parts.map(({ full }) => full)),
    shares: join(parts.map(({ shares }) => shares)),
    failed: parts.reduce((sum, { failed }) => sum + failed, 0),
  };
}

function firstProblem(model: LabEffectModel): readonly Problem[] {
  const found = model.firstProblem();
  return [found ?? problem('not-finite', {}, 'A result of the model is not a finite number.')];
}

/**
 * The gap ledger of every result: what each effect explains of the gap between ideal theory and measurement, and
 * what remains, with uncertainties from common quasi-random draws of all uncertain quantities.
 *
 * Every subset of effects is run at the author's values, so the lines add up exactly; of more than ten effects, those
 * subsets that orders drawn at random pass. The draws go through each subset's second-order response, checked on some
 * draws against the model itself; where they disagree, or a response leaves the model's domain, the model is run at
 * every draw.
 *
 * @returns one ledger a result and group of settings, or the problems that prevent it
 */
export function reconcile(
  pipeline: Pipeline,
  trials: readonly TrialRun[],
  options: ReconcileOptions & ReconcilerOptions = {},
): Outcome<Reconciliation> {
  if (options.signal?.aborted === true) throw new Cancelled();
  const reconciler = createReconciler(pipeline, trials, options);
  return reconciler.ok ? reconciler.value.reconcile(options) : reconciler;
}
