import { drawEstimates, type RandomSource } from '../inference/index.ts';
import type { Readings } from '../instrument/index.ts';
import type { Lab, Pipeline, QuantityValues, Setting } from '../lab/index.ts';
import { type Outcome, succeed } from '../problem/index.ts';
import {
  allEffects,
  drawRun,
  gatherOutputs,
  listOutputs,
  type Output,
  plannedGroups,
  type RunGroup,
  type RunScalars,
  settingsOff,
  settleVariation,
} from '../run/index.ts';

/** Readings of the runs that one student group takes. */
export type TakenRuns = readonly { readonly group: number; readonly readings: readonly Readings[] }[];

/** What a group's runs give: each result of the lab with the standard uncertainty that it states of itself, SI. */
export interface GroupResults {
  /** NaN for what a group cannot find at its station alone, such as a line over settings that it does not take. */
  readonly values: Float64Array;
  /** Of the mean over the group's runs; NaN where the runs state none. */
  readonly uncertainties: Float64Array;
  /** What each run gave. */
  readonly runs: readonly RunScalars[];
}

/**
 * One student group's work: the runs that it takes at its station, and what it makes of the readings.
 *
 * Results of a single run come from runs under the station's settings alone; where the lab has results across runs,
 * the group takes the whole plan, as far as its station leaves it to the group.
 */
export interface Bench {
  readonly pipeline: Pipeline;
  readonly groups: readonly RunGroup[];
  /** The group of runs that results of a single run are taken from. */
  readonly main: number;
  /** All quantities as the group should reckon with them, one vector a group of runs. */
  readonly told: readonly QuantityValues[];
  /** Draws an apparatus within the uncertainties. */
  drawApparatus(random: RandomSource): Float64Array;
  /**
   * Takes all runs.
   *
   * @param apparatus base values that the apparatus really has, SI
   * @param random    null for runs without noise, as many a setting as tell their mean where runs differ
   * @param subset    effects that are on
   * @param also      settings of the apparatus that go before all others
   */
  takeRuns(
    apparatus: Float64Array,
    random: RandomSource | null,
    subset?: number,
    also?: (values: QuantityValues) => readonly Setting[],
  ): Outcome<TakenRuns>;
  /**
   * Takes readings through the reduction.
   *
   * @param told values reckoned with, one vector a group of runs
   * @param by   the pipeline whose steps are taken
   */
  reduce(runs: TakenRuns, told?: readonly QuantityValues[], by?: Pipeline): Outcome<GroupResults>;
}

/** Makes the bench of a station. */
export function createBench(pipeline: Pipeline, set: readonly Setting[]): Bench {
  const { lab, nominal } = pipeline;
  const needsPlan = lab.results.some(({ scope }) => scope === 'across');
  const planned: readonly RunGroup[] = needsPlan
    ? plannedGroups(lab, set)
    : [{ when: set, label: '', trials: [] }];
  const main = Math.max(
    planned.findIndex(({ when }) => when.every((setting) => isUsual(setting, set))),
    0,
  );
  const outputs = outputsOf(lab, planned, main);
  const isWholePlan = !needsPlan || planned.length >= plannedGroups(lab).length;
  const estimates = lab.quantities.base.map(({ estimate }) => estimate);
  let nodes: readonly Float64Array[] | null = null;
  const variation = (): readonly Float64Array[] => {
    nodes ??= settleVariation(pipeline, planned).nodes;
    return nodes;
  };
  const told = planned.map(({ when }) => pipeline.values(nominal, when));
  return {
    pipeline,
    groups: planned,
    main,
    told,
    drawApparatus(random) {
      const truth = Float64Array.from(nominal);
      drawEstimates(estimates, lab.correlations, random, truth);
      return truth;
    },
    takeRuns(apparatus, random, subset = allEffects(lab), also = () => []) {
      const runs: TakenRuns[number][] = [];
      const off = settingsOff(lab, subset);
      /** Base values of each run of a group of runs, and its noise; without noise the examples of what runs may have. */
      const ownRuns = (index: number) =>
        random === null
          ? variation().map((node) => ({
              base: apparatus.map((value, quantity) => value + node[quantity]),
              stream: null,
            }))
          : Array.from({ length: lab.plan.repeats }, (_, repeat) => {
              const stream = random.fork(index * lab.plan.repeats + repeat);
              return { base: drawRun(lab, apparatus, stream.fork(-1)), stream };
            });
      for (const [index, { when }] of planned.entries()) {
        for (const { base, stream } of ownRuns(index)) {
          const shifted = when.map(({ quantity, value }) => ({
            quantity,
            value: value + (base[quantity.index] - nominal[quantity.index]),
          }));
          const values = pipeline.values(base, shifted, off, also(told[index]));
          const simulated = pipeline.simulate(values, { random: stream });
          if (!simulated.ok) return simulated;
          runs.push({ group: index, readings: simulated.value.readings });
        }
      }
      return succeed(runs);
    },
    reduce(runs, values = told, by = pipeline) {
      const scalars: RunScalars[] = [];
      for (const { group, readings } of runs) {
        const reduced = by.reduce(readings, values[group], { findsUncertainties: true });
        if (!reduced.ok) return reduced;
        scalars.push({ group, scalars: reduced.value.scalars });
      }
      const gathered = gatherResults(by, planned, outputs, scalars, values);
      if (gathered.ok || isWholePlan) return gathered;
      // A station that fixes what the plan varies has too little for some steps across runs.
      const ofRuns = outputs.filter(({ group }) => group !== null);
      return ofRuns.length === 0 ? gathered : gatherResults(by, planned, ofRuns, scalars, values);
    },
  };
}

function isUsual({ quantity, value }: Setting, set: readonly Setting[]): boolean {
  const usual = set.find((own) => own.quantity === quantity)?.value ?? quantity.estimate.value;
  return Math.abs(value - usual) <= 1e-12 * Math.abs(usual);
}

/** One output a result: of a single run in the main group, or across all runs. */
function outputsOf(lab: Lab, groups: readonly RunGroup[], main: number): readonly Output[] {
  return listOutputs(lab, groups).filter(({ group }) => group === null || group === main);
}

function gatherResults(
  pipeline: Pipeline,
  groups: readonly RunGroup[],
  outputs: readonly Output[],
  runs: readonly RunScalars[],
  told: readonly QuantityValues[],
): Outcome<GroupResults> {
  const { lab } = pipeline;
  const row = new Float64Array(outputs.length);
  // What is reckoned with is given whole; a setting of the group of runs is to be taken out of it, for it comes again.
  const base = Float64Array.from(lab.quantities.base, ({ index }) => told[0][index]);
  for (const { quantity, value } of groups[0]?.when ?? [])
    base[quantity.index] += pipeline.nominal[quantity.index] - value;
  const gathered = gatherOutputs(pipeline, groups, outputs, runs, base, allEffects(lab), () => 1, row);
  if (!gathered.ok) return gathered;
  const values = new Float64Array(lab.results.length).fill(Number.NaN);
  const uncertainties = new Float64Array(lab.results.length).fill(Number.NaN);
  outputs.forEach(({ result, group }, index) => {
    const place = lab.results.indexOf(result);
    values[place] = row[index];
    uncertainties[place] =
      group === null
        ? (gathered.value?.scalars.get(result.name)?.standardUncertainty ?? Number.NaN)
        : uncertaintyOfMean(runs, group, result.name);
  });
  return succeed({ values, uncertainties, runs });
}

/** What runs state of themselves, combined for their mean; where they state nothing, their scatter. */
function uncertaintyOfMean(runs: readonly RunScalars[], group: number, name: string): number {
  const own = runs.filter((run) => run.group === group).flatMap((run) => run.scalars.get(name) ?? []);
  const stated = own.map(({ standardUncertainty }) => standardUncertainty);
  if (own.length > 0 && stated.every(Number.isFinite)) return Math.hypot(...stated) / own.length;
  if (own.length < 2) return Number.NaN;
  const mean = own.reduce((sum, { value }) => sum + value, 0) / own.length;
  const squares = own.reduce((sum, { value }) => sum + (value - mean) ** 2, 0);
  return Math.sqrt(squares / (own.length - 1) / own.length);
}
