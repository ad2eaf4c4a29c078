import type { Lab, Pipeline } from '../lab/index.ts';
import { fail, type Problem, problem, succeed } from '../problem/index.ts';
import type { ManyRuns, Output, RunGroup, RunVariation, SimulateRuns } from '../run/index.ts';
import { settingsOff, settleVariation } from '../run/index.ts';
import type { EffectModel } from './effect-model.ts';
import { createScalarsReader, type GatherPoint } from './gather-points.ts';

/** The lab's pipeline as numbers for the ledger, and the first problem it met. */
export interface LabEffectModel extends EffectModel {
  /** The base quantities that are uncertain: input i of the model is base quantity `uncertain[i]`. */
  readonly uncertain: readonly number[];
  /**
   * Puts inputs among the author's values of the other base quantities.
   *
   * @param inputs rows × m
   * @returns rows × base quantities
   */
  baseAt(inputs: Float64Array, rows: number): Float64Array;
  readonly firstProblem: () => Problem | null;
  /** How runs differ, as settled for these groups. */
  readonly variation: RunVariation;
  /** The runs themselves, before anything is gathered from them. */
  readonly simulateRuns: SimulateRuns;
}

/** Sees the simulated runs of all groups, and the outputs gathered from them, as an effect model. */
export function createLabModel(
  pipeline: Pipeline,
  runs: ManyRuns,
  groups: readonly RunGroup[],
  outputs: readonly Output[],
  names: readonly string[],
  gather: GatherPoint,
): LabEffectModel {
  const { lab, nominal } = pipeline;
  const uncertain = lab.quantities.base
    .filter(({ estimate }) => estimate.standardUncertainty > 0)
    .map(({ index }) => index);
  const estimates = uncertain.flatMap((index) => lab.quantities.base[index]?.estimate ?? []);
  const inputOf = new Map(uncertain.map((index, input) => [index, input]));
  const isIdle = uncertain.map((index) => !lab.influential.has(index));
  const switchedOff = new Map<number, ReadonlySet<number>>();
  const offAt = (subset: number): ReadonlySet<number> => {
    const known = switchedOff.get(subset);
    if (known !== undefined) return known;
    const off = new Set(
      settingsOff(lab, subset).flatMap(({ quantity }) => inputOf.get(quantity.index) ?? []),
    );
    switchedOff.set(subset, off);
    return off;
  };
  const baseAt = (inputs: Float64Array, rows: number): Float64Array => {
    const base = new Float64Array(rows * nominal.length);
    for (let row = 0; row < rows; row++) {
      base.set(nominal, row * nominal.length);
      for (let input = 0; input < uncertain.length; input++) {
        base[row * nominal.length + uncertain[input]] = inputs[row * uncertain.length + input];
      }
    }
    return base;
  };
  let firstProblem: Problem | null = null;
  const note = ([found]: readonly Problem[], subset: number): void => {
    if (found !== undefined) firstProblem ??= sayWithout(found, lab, subset);
  };
  const weights = groups.map(({ trials }) => Math.max(trials.length, 1));
  const runsOfPoint = groups.map((_, group) => group);
  const width = outputs.length;
  const scalarsOf = createScalarsReader(pipeline, names, runs.width);
  const simulateRuns: SimulateRuns = (points, visit) => {
    const perPoint = groups.length * runs.width;
    const scalars = new Float64Array(points.length * perPoint);
    const sound = new Uint8Array(points.length);
    const base = new Float64Array(points.length * nominal.length);
    for (const [i, point] of points.entries()) base.set(point.base, i * nominal.length);
    const told = new Map<number, readonly Problem[]>();
    runs.simulate(
      pipeline,
      {
        count: points.length,
        subsets: Uint32Array.from(points, ({ subset }) => subset),
        base,
        variationAt: (point) => points[point].variation,
        together: 1,
      },
      { scalars, sound, note: (index, problems) => told.set(index, told.get(index) ?? problems) },
    );
    for (const point of points.keys()) {
      const ofGroups = groups.map((_, group) =>
        scalarsOf(scalars, point * perPoint + group * runs.width, group),
      );
      visit(point, sound[point] === 1 ? succeed(ofGroups) : fail(...(told.get(point) ?? [notFinite])));
    }
  };
  const variation = settleVariation(pipeline, groups, simulateRuns);
  return {
    effects: lab.effects.length,
    outputs: width,
    nominal: Float64Array.from(estimates, (estimate) => estimate.value),
    uncertainties: Float64Array.from(estimates, (estimate) => estimate.standardUncertainty),
    uncertain,
    baseAt,
    firstProblem: () => firstProblem,
    variation,
    simulateRuns,
    generalRunsPerPoint: () => runs.generalRunsPerPoint(),
    isInert: (subset, input) => isIdle[input] === true || offAt(subset).has(input),
    predict({ count, subsets, inputs, together }, values, sound, signal) {
      const base = baseAt(inputs, count);
      const perPoint = groups.length * runs.width;
      const scalars = new Float64Array(count * perPoint);
      runs.simulate(
        pipeline,
        { count, subsets, base, variationAt: () => variation, together },
        { scalars, sound, note: (index, problems) => note(problems, subsets[index]) },
        signal,
      );
      for (let point = 0; point < count; point++) {
        if (sound[point] === 0) continue;
        const out = values.subarray(point * width, (point + 1) * width);
        const problems = gather(
          scalars.subarray(point * perPoint, (point + 1) * perPoint),
          runsOfPoint,
          weights,
          base.subarray(point * nominal.length, (point + 1) * nominal.length),
          subsets[point],
          out,
        );
        if (problems === null && out.every(Number.isFinite)) continue;
        sound[point] = 0;
        if (problems !== null) note(problems, subsets[point]);
      }
    },
  };
}

const notFinite = problem('not-finite', {}, 'A result of the model is not a finite number.');

/** A subset of the effects is a setting that the author never wrote down: the problem says which are off. */
function sayWithout(found: Problem, lab: Lab, subset: number): Problem {
  const off = lab.effects.filter((_, index) => (subset & (1 << index)) === 0).map(({ name }) => `"${name}"`);
  if (off.length === 0) return found;
  return { ...found, message: `${found.message} This is without ${off.join(' and ')}.` };
}
