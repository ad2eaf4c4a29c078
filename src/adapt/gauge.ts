import type { Lab, LabResult, Pipeline, QuantityValues, Setting } from '../lab/index.ts';
import { fail, type Outcome, type Problem, problem, succeed } from '../problem/index.ts';
import { shapleyShares } from '../reconcile/index.ts';
import {
  allEffects,
  gatherOutputs,
  listOutputs,
  type Output,
  plannedGroups,
  type RehearsedOutput,
  type RunGroup,
  rehearse,
  settingsOff,
  settleVariation,
  simulateGroups,
} from '../run/index.ts';
import { type Course, followCourse } from './course.ts';

/** What the lab gives under some settings; each part is worked out when it is first asked for. SI. */
export interface Spot {
  readonly settings: readonly Setting[];
  /** All quantities, every effect on. */
  readonly values: QuantityValues;
  /** What theory says of each result; NaN where the lab gives no formula. */
  readonly theory: Float64Array;
  /** Each result with all effects on. */
  full(): Outcome<Float64Array>;
  /** Each result with all effects off. */
  ideal(): Outcome<Float64Array>;
  /** The share of each effect in full − ideal (Shapley): results × effects. */
  shares(): Outcome<Float64Array>;
  /** The run with all effects on: how long, how far valid, how many readings, how fast. */
  course(): Outcome<Course>;
  /** How each result scatters over rehearsals, apparatus drawn within its uncertainties. */
  scatter(): Outcome<Scatter>;
}

/** How the results scatter from school to school. */
export interface Scatter {
  /** One a result of the lab. */
  readonly results: readonly RehearsedOutput[];
  readonly rehearsals: number;
  /** Rehearsals in which a run failed, and the first reason. */
  readonly failed: number;
  readonly firstFailure: Problem | null;
}

export interface GaugeOptions {
  /** How often a scatter is rehearsed; default 48: then it is known to a tenth of itself. */
  readonly rehearsals?: number;
  /** The same draws at every spot, so that maps are smooth; default 1. */
  readonly seed?: number;
  readonly signal?: { readonly aborted: boolean };
}

/** Asks a lab what it gives under settings. */
export interface Gauge {
  readonly pipeline: Pipeline;
  at(settings: readonly Setting[]): Spot;
}

/** A standard deviation of n values is known to 1/√(2(n − 1)) of itself. */
const USUAL_REHEARSALS = 48;

/** More effects than this have more subsets than can be run in a sensible time. */
const MOST_EFFECTS = 12;

/** Makes the gauge of a lab; what it was asked before it remembers. */
export function createGauge(pipeline: Pipeline, options: GaugeOptions = {}): Gauge {
  const runner = createRunner(pipeline);
  const known = new Map<string, Spot>();
  return {
    pipeline,
    at(settings) {
      const key = settings.map(({ quantity, value }) => `${quantity.index}=${value}`).join(';');
      const spot = known.get(key) ?? createSpot(pipeline, runner, settings, options);
      known.set(key, spot);
      return spot;
    },
  };
}

function createSpot(
  pipeline: Pipeline,
  runner: Runner,
  settings: readonly Setting[],
  options: GaugeOptions,
): Spot {
  const { lab } = pipeline;
  const all = allEffects(lab);
  const values = pipeline.values(pipeline.nominal, settings, settingsOff(lab, all));
  const one = (subset: number): Outcome<Float64Array> => {
    const found = runner(settings, [subset], options.signal);
    return found.ok ? succeed(found.value, found.warnings) : found;
  };
  return {
    settings,
    values,
    theory: Float64Array.from(lab.results, (result) => result.theory?.evaluate(values) ?? Number.NaN),
    full: once(() => one(all)),
    ideal: once(() => one(0)),
    shares: once(() => sharesAt(lab, runner, settings, options)),
    course: once(() => followCourse(pipeline, values)),
    scatter: once(() => scatterAt(pipeline, settings, options)),
  };
}

/** Runs the lab under settings for some subsets of effects: subsets × results, in the order of the lab's results. */
type Runner = (
  settings: readonly Setting[],
  subsets: readonly number[],
  signal?: { readonly aborted: boolean },
) => Outcome<Float64Array>;

function createRunner(pipeline: Pipeline): Runner {
  const { lab, nominal } = pipeline;
  // Whether single runs must be averaged over is settled once, for the lab as given.
  const variations = {
    run: once(() => settleVariation(pipeline, [{ when: [], label: '', trials: [] }])),
    across: once(() => settleVariation(pipeline, plannedGroups(lab))),
  };
  return (settings, subsets, signal) => {
    const table = new Float64Array(subsets.length * lab.results.length);
    const base = Float64Array.from(nominal);
    for (const { groups, outputs, scope } of partsOf(lab, settings)) {
      const row = new Float64Array(outputs.length);
      for (const [index, subset] of subsets.entries()) {
        if (signal?.aborted === true) return fail(cancelled(lab));
        const runs = simulateGroups(pipeline, groups, base, subset, variations[scope]());
        if (!runs.ok) return runs;
        const gathered = gatherOutputs(pipeline, groups, outputs, runs.value, base, subset, () => 1, row);
        if (!gathered.ok) return gathered;
        outputs.forEach(({ result }, output) => {
          table[index * lab.results.length + lab.results.indexOf(result)] = row[output];
        });
      }
    }
    return succeed(table);
  };
}

/** Results of a single run need one run under the settings; those across runs need the plan. */
function partsOf(
  lab: Lab,
  settings: readonly Setting[],
): readonly {
  readonly groups: readonly RunGroup[];
  readonly outputs: readonly Output[];
  readonly scope: LabResult['scope'];
}[] {
  const single: readonly RunGroup[] = [{ when: settings, label: '', trials: [] }];
  const parts = [
    { groups: single, scope: 'run' as const },
    { groups: plannedGroups(lab, withoutVaried(lab, settings)), scope: 'across' as const },
  ];
  return parts
    .map(({ groups, scope }) => ({
      groups,
      scope,
      outputs: listOutputs(lab, groups).filter(({ result }) => result.scope === scope),
    }))
    .filter(({ outputs }) => outputs.length > 0);
}

/** A result across runs lives on what the plan varies: a setting of that is for the single run alone. */
function withoutVaried(lab: Lab, settings: readonly Setting[]): readonly Setting[] {
  const varied = new Set(lab.plan.settings.flatMap((when) => when.map(({ quantity }) => quantity)));
  return settings.filter(({ quantity }) => !varied.has(quantity));
}

function sharesAt(
  lab: Lab,
  runner: Runner,
  settings: readonly Setting[],
  { signal }: GaugeOptions,
): Outcome<Float64Array> {
  const count = lab.effects.length;
  if (count > MOST_EFFECTS) {
    const message = `The lab has ${count} effects; shares run every subset of them and take at most ${MOST_EFFECTS}.`;
    return fail(
      problem('too-many-effects', { file: lab.file }, message, 'Join effects that belong together.'),
    );
  }
  const subsets = Array.from({ length: 2 ** count }, (_, subset) => subset);
  const table = runner(settings, subsets, signal);
  if (!table.ok) return table;
  const results = lab.results.length;
  const shares = new Float64Array(results * count);
  for (let result = 0; result < results; result++) {
    const column = Float64Array.from(subsets, (subset) => table.value[subset * results + result]);
    shapleyShares(column, count, shares.subarray(result * count, (result + 1) * count));
  }
  return succeed(shares);
}

function scatterAt(
  pipeline: Pipeline,
  settings: readonly Setting[],
  options: GaugeOptions,
): Outcome<Scatter> {
  const { lab } = pipeline;
  const own = lab.results.some(({ scope }) => scope === 'across')
    ? settings
    : [...ownSettings(lab, settings), ...settings];
  const rehearsed = rehearse(pipeline, {
    repeats: options.rehearsals ?? USUAL_REHEARSALS,
    seed: options.seed ?? 1,
    settings: own,
    drawsQuantities: true,
    ...(options.signal === undefined ? {} : { signal: options.signal }),
  });
  if (!rehearsed.ok) return rehearsed;
  const { groups, outputs, repeats, failed, firstFailure } = rehearsed.value;
  const main = closestGroup(groups, settings);
  return succeed({
    results: lab.results.flatMap((result) => {
      const found = outputs.find(
        ({ output }) => output.result === result && (output.group === null || output.group === main),
      );
      return found === undefined ? [] : [found];
    }),
    rehearsals: repeats,
    failed,
    firstFailure,
  });
}

/** What the plan varies, at the author's own value, where the settings leave it open: one setting is rehearsed, not all. */
function ownSettings(lab: Lab, settings: readonly Setting[]): readonly Setting[] {
  const varied = new Set(lab.plan.settings.flatMap((when) => when.map(({ quantity }) => quantity)));
  for (const { quantity } of settings) varied.delete(quantity);
  return [...varied].map((quantity) => ({ quantity, value: quantity.estimate.value }));
}

/** The group of runs that stands nearest to the settings: that which differs from them in nothing, else the first. */
function closestGroup(groups: readonly RunGroup[], settings: readonly Setting[]): number {
  const valueHere = ({ quantity }: Setting) =>
    settings.find((setting) => setting.quantity === quantity)?.value ?? quantity.estimate.value;
  const own = groups.findIndex(({ when }) => when.every((setting) => setting.value === valueHere(setting)));
  return Math.max(own, 0);
}

function cancelled(lab: Lab): Problem {
  return problem('cancelled', { file: lab.file }, 'The computation was cancelled.');
}

function once<T>(make: () => T): () => T {
  let made: { readonly value: T } | null = null;
  return () => {
    made ??= { value: make() };
    return made.value;
  };
}
