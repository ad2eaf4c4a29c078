import type { Readings } from '../instrument/index.ts';
import type { Lab, LabResult, Pipeline, QuantityValues, ReduceOptions, Setting } from '../lab/index.ts';
import type { Outcome, Problem } from '../problem/index.ts';
import { fail, problem, succeed } from '../problem/index.ts';
import type { RunState, Scalar } from '../reduction/index.ts';
import { beginRun } from '../reduction/index.ts';
import type { RunGroup } from './groups.ts';
import type { RunVariation } from './run-variation.ts';

/** One number that the lab compares: a result in one group of runs, or a result across all runs (group null). */
export interface Output {
  readonly result: LabResult;
  readonly group: number | null;
}

/** The scalars that one run gave, with the group it belongs to. */
export interface RunScalars {
  readonly group: number;
  readonly scalars: ReadonlyMap<string, Scalar>;
}

/** Lists what is compared: each per-run result once a group, each result across runs once. */
export function listOutputs(lab: Lab, groups: readonly RunGroup[]): readonly Output[] {
  return lab.results.flatMap((result): Output[] =>
    result.scope === 'across' ? [{ result, group: null }] : groups.map((_, group) => ({ result, group })),
  );
}

/** Settings that switch off the effects that are not in `subset` (bit i: effect i is on). */
export function settingsOff(lab: Lab, subset: number): readonly Setting[] {
  const known = knownSettings.get(lab.effects) ?? new Map<number, readonly Setting[]>();
  knownSettings.set(lab.effects, known);
  const settings =
    known.get(subset) ??
    lab.effects.flatMap((effect, index) => ((subset & (1 << index)) === 0 ? effect.off : []));
  known.set(subset, settings);
  return settings;
}

/** The ledger asks for the same few subsets at every draw. */
const knownSettings = new WeakMap<Lab['effects'], Map<number, readonly Setting[]>>();

/** The subset in which every effect is on. */
export function allEffects(lab: Lab): number {
  return 2 ** lab.effects.length - 1;
}

/**
 * All quantities for one group: a setting of the group replaces the author's value, and a draw's deviation from
 * the author's value shifts it as it would have shifted that; effects that are off are off exactly.
 */
export function valuesOfGroup(
  pipeline: Pipeline,
  base: Float64Array,
  group: RunGroup,
  subset: number,
): QuantityValues {
  const shifted = group.when.map(({ quantity, value }) => ({
    quantity,
    value: value + (base[quantity.index] - pipeline.nominal[quantity.index]),
  }));
  return pipeline.values(base, shifted, settingsOff(pipeline.lab, subset));
}

/**
 * Simulates what runs in each group give on average, each example of how they differ reduced by itself.
 *
 * @param base values of the base quantities, SI
 * @param subset effects that are on
 * @returns the mean scalars of each group's runs, or the first run's problem
 */
export function simulateGroups(
  pipeline: Pipeline,
  groups: readonly RunGroup[],
  base: Float64Array,
  subset: number,
  variation: RunVariation,
): Outcome<readonly RunScalars[]> {
  const runs: RunScalars[] = [];
  const warnings: Problem[] = [];
  for (const [index, group] of groups.entries()) {
    const values = valuesOfGroup(pipeline, base, group, subset);
    const ofNodes: RunScalars[] = [];
    for (const own of valuesOfNodes(pipeline, base, group, subset, variation)) {
      const run = simulateGroup(pipeline, group, index, own, values);
      if (!run.ok) return run;
      ofNodes.push(run.value);
      warnings.push(...run.warnings);
    }
    runs.push(averageRuns(ofNodes));
  }
  return succeed(runs, warnings);
}

/**
 * What single runs of a group have, one vector an example of the variation; where the subset switches off all that
 * differs from run to run, a single one.
 */
export function valuesOfNodes(
  pipeline: Pipeline,
  base: Float64Array,
  group: RunGroup,
  subset: number,
  { nodes }: RunVariation,
): readonly QuantityValues[] {
  const off = settingsOff(pipeline.lab, subset);
  const [first] = nodes;
  const differs = (index: number) =>
    first[index] !== 0 && !off.some(({ quantity }) => quantity.index === index);
  if (!pipeline.lab.quantities.base.some(({ index }) => differs(index)))
    return [valuesOfGroup(pipeline, base, group, subset)];
  return nodes.map((deviations) =>
    valuesOfGroup(
      pipeline,
      base.map((value, index) => value + deviations[index]),
      group,
      subset,
    ),
  );
}

/** The mean of runs of one group, scalar by scalar. */
export function averageRuns(runs: readonly RunScalars[]): RunScalars {
  const [first] = runs;
  if (runs.length === 1) return first;
  const meanOf = (name: string, key: 'value' | 'standardUncertainty'): number =>
    runs.reduce((sum, { scalars }) => sum + (scalars.get(name)?.[key] ?? Number.NaN), 0) / runs.length;
  const scalars = new Map<string, Scalar>();
  for (const [name, scalar] of first.scalars) {
    scalars.set(name, {
      ...scalar,
      value: meanOf(name, 'value'),
      standardUncertainty: meanOf(name, 'standardUncertainty'),
    });
  }
  return { group: first.group, scalars };
}

/**
 * Simulates and reduces one run of a group, with all quantities given.
 *
 * @param values     what the run has
 * @param reduceWith what its reduction takes them for: it knows nothing of what differs from run to run
 */
export function simulateGroup(
  pipeline: Pipeline,
  group: RunGroup,
  index: number,
  values: QuantityValues,
  reduceWith: QuantityValues,
): Outcome<RunScalars> {
  const simulated = pipeline.simulate(values);
  if (!simulated.ok) return inGroup(simulated.problems, group);
  const findsUncertainties = needsUncertainties(pipeline.lab);
  const reduced = reduceSimulated(pipeline, simulated.value.readings, reduceWith, group, index, {
    findsUncertainties,
  });
  return reduced.ok ? succeed(reduced.value, simulated.warnings) : reduced;
}

/** Reduces simulated readings of one run of a group. */
export function reduceSimulated(
  pipeline: Pipeline,
  readings: readonly Readings[],
  values: QuantityValues,
  group: RunGroup,
  index: number,
  options: ReduceOptions,
): Outcome<RunScalars> {
  const reduced = pipeline.reduce(readings, values, options);
  return reduced.ok
    ? succeed({ group: index, scalars: reduced.value.scalars })
    : inGroup(reduced.problems, group);
}

/** Whether any step reads the uncertainties of scalars, so that even simulated runs must find them. */
export function needsUncertainties(lab: Lab): boolean {
  return lab.eachRun.readsUncertainties || lab.acrossRuns.readsUncertainties;
}

/**
 * Reduces every trial of every group with the given base values; one entry a run.
 *
 * @param findsUncertainties whether each run's scalars carry their uncertainty
 */
export function reduceGroups(
  pipeline: Pipeline,
  groups: readonly RunGroup[],
  base: Float64Array,
  findsUncertainties: boolean,
): Outcome<readonly RunScalars[]> {
  const runs: RunScalars[] = [];
  for (const [index, group] of groups.entries()) {
    const values = valuesOfGroup(pipeline, base, group, allEffects(pipeline.lab));
    for (const trial of group.trials) {
      const reduced = pipeline.reduce(trial.readings, values, {
        runName: `run "${trial.entry.name}"`,
        findsUncertainties: findsUncertainties || needsUncertainties(pipeline.lab),
      });
      if (!reduced.ok) return reduced;
      runs.push({ group: index, scalars: reduced.value.scalars });
    }
  }
  return succeed(runs);
}

/**
 * Gathers the outputs from the scalars of runs: the mean over a group's runs, or the steps across all runs.
 *
 * @param base    values of the base quantities, SI
 * @param subset  effects that are on
 * @param weights how many real runs each entry stands for, so that a simulated table has the rows of the real one
 * @param values receives one number an output, SI
 * @param keepsReports whether fits across runs are kept with their data
 */
export function gatherOutputs(
  pipeline: Pipeline,
  groups: readonly RunGroup[],
  outputs: readonly Output[],
  runs: readonly RunScalars[],
  base: Float64Array,
  subset: number,
  weights: (group: number) => number,
  values: Float64Array,
  keepsReports = false,
): Outcome<RunState | null> {
  const across = outputs.some((output) => output.group === null)
    ? reduceAcross(pipeline, groups, runs, base, subset, weights, keepsReports)
    : succeed<RunState | null>(null);
  if (!across.ok) return across;
  for (const [index, { result, group }] of outputs.entries()) {
    if (group === null) {
      const scalar = across.value?.scalars.get(result.name);
      if (scalar === undefined) return fail(notGiven(result));
      values[index] = scalar.value;
      continue;
    }
    let sum = 0;
    let count = 0;
    for (const run of runs) {
      if (run.group !== group) continue;
      const scalar = run.scalars.get(result.name);
      if (scalar === undefined) return fail(notGiven(result));
      sum += scalar.value;
      count += 1;
    }
    values[index] = sum / count;
  }
  return across;
}

/**
 * The table of per-run scalars and of the quantities that vary, one row a run, taken through the steps of
 * `across runs`.
 */
function reduceAcross(
  pipeline: Pipeline,
  groups: readonly RunGroup[],
  runs: readonly RunScalars[],
  base: Float64Array,
  subset: number,
  weights: (group: number) => number,
  keepsReports: boolean,
): Outcome<RunState> {
  const { lab } = pipeline;
  const rows = runs.flatMap((run) => Array.from({ length: weights(run.group) }, () => run));
  const state = beginRun('across runs', new Map(), { keepsReports, findsUncertainties: true });
  const [first] = rows;
  for (const [name, { dimension }] of first?.scalars ?? []) {
    const column = rows.map((row) => row.scalars.get(name));
    state.columns.set(name, {
      name,
      dimension,
      values: Float64Array.from(column, (scalar) => scalar?.value ?? Number.NaN),
      u: Float64Array.from(column, (scalar) => scalar?.standardUncertainty ?? 0),
    });
  }
  const ofGroup = groups.map((group) => valuesOfGroup(pipeline, base, group, subset));
  for (const { name, dimension, index } of lab.varied) {
    const values = Float64Array.from(rows, (row) => ofGroup[row.group]?.[index] ?? Number.NaN);
    state.columns.set(name, { name, dimension, values, u: 0 });
  }
  // What does not vary is the same in every group.
  const [quantities = pipeline.values(base)] = ofGroup;
  const done = lab.acrossRuns.run(state, quantities);
  if (!done.ok) return done;
  return succeed(state, done.warnings);
}

function inGroup(problems: readonly Problem[], group: RunGroup): Outcome<never> {
  if (group.when.length === 0) return fail(...problems);
  return fail(
    ...problems.map((found) => ({ ...found, message: `${found.message} This is with ${group.label}.` })),
  );
}

function notGiven(result: LabResult): Problem {
  return problem(
    'result-not-given',
    result.place,
    `No step of the reduction gave "${result.name}" in this run.`,
  );
}
