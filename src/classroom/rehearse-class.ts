import { randomSource, studentQuantile } from '../inference/index.ts';
import type { LabResult, Pipeline, Pooling } from '../lab/index.ts';
import { fail, type Outcome, type Problem, problem, succeed } from '../problem/index.ts';
import { allEffects } from '../run/index.ts';
import { acrossClass } from './across-class.ts';
import { type Bench, createBench, type GroupResults } from './bench.ts';
import type { StationOfGroup } from './list-stations.ts';
import { type Pooled, poolResults, type StationResults } from './pool-results.ts';

/** What one station is expected to find in one result, SI. */
export interface StationOutlook {
  readonly result: LabResult;
  /** NaN where the lab gives no formula. */
  readonly theory: number;
  readonly mean: number;
  readonly spread: number;
  /** Central 95 % of rehearsals. */
  readonly low: number;
  readonly high: number;
}

export interface ExpectedStation {
  readonly station: StationOfGroup;
  readonly results: readonly StationOutlook[];
  /** Rehearsals of this station in which a run failed. */
  readonly failed: number;
}

/**
 * What the class is expected to find together, for a number of groups: by the lab's own steps across stations; where
 * it has none, what no station can find alone, by the steps across runs over the runs of all stations.
 */
export interface PooledOutlook {
  readonly groups: number;
  readonly result: LabResult;
  /** NaN where the lab gives no formula. */
  readonly theory: number;
  readonly mean: number;
  /** Standard deviation from class to class. */
  readonly spread: number;
  readonly low: number;
  readonly high: number;
  /** Mean standard uncertainty that the class would state from its own fit. */
  readonly stated: number;
  /**
   * Share of classes whose own 95 % interval holds what theory says of their apparatus; NaN without a theory, and where
   * each station has an apparatus of its own that theory reads.
   */
  readonly coverage: number;
  /** Classes that could be pooled. */
  readonly rehearsals: number;
}

export interface ClassRehearsal {
  readonly stations: readonly ExpectedStation[];
  /** For each number of groups that was asked for and each pooled result. */
  readonly pooled: readonly PooledOutlook[];
  /** The first class, as an example of what a pooled plot looks like; null without pooling. */
  readonly example: { readonly stations: readonly StationResults[]; readonly pooled: Pooled } | null;
  readonly rehearsals: number;
  readonly firstFailure: Problem | null;
}

export interface ClassOptions {
  /** How many classes are rehearsed; default 100. */
  readonly rehearsals?: number;
  readonly seed?: number;
  /** Numbers of groups for which the pooled result is planned; that of the stations where left out. */
  readonly groups?: readonly number[];
  /** Effects that are on; all where left out. */
  readonly subset?: number;
  readonly progress?: (done: number, total: number) => void;
  readonly signal?: { readonly aborted: boolean };
}

const USUAL_REHEARSALS = 100;

/**
 * Rehearses a class: every station takes its runs with its own apparatus, drawn within the uncertainties; quantities
 * that are the same everywhere are drawn once a class. Then the stations' results are pooled.
 *
 * @returns the expected result and band of each station and of the class; fails where no rehearsal of some station
 * succeeds, with its first reason
 */
export function rehearseClass(
  pipeline: Pipeline,
  stations: readonly StationOfGroup[],
  options: ClassOptions = {},
): Outcome<ClassRehearsal> {
  const { lab } = pipeline;
  if (stations.length === 0) {
    const message = 'The lab has no stations.';
    const advice = 'Give each group its values under "stations" in the lab file.';
    return fail(problem('no-stations', { file: lab.file }, message, advice));
  }
  const rehearsals = options.rehearsals ?? USUAL_REHEARSALS;
  const random = randomSource(options.seed ?? 1);
  const benches = stations.map(({ set }) => createBench(pipeline, set));
  const { pooled: pooling } = lab.stations;
  const common = pooling?.common ?? new Set<number>();
  const counts = options.groups ?? [stations.length];
  const failures: Problem[] = [];
  const found: (readonly (Found | null)[])[] = [];
  const truths: Float64Array[] = [];
  for (let index = 0; index < rehearsals; index++) {
    if (options.signal?.aborted === true)
      return fail(problem('cancelled', { file: lab.file }, 'The rehearsal was cancelled.'));
    const stream = random.fork(index);
    const shared = benches[0].drawApparatus(stream.fork(-1));
    truths.push(theoriesOf(pipeline, shared, common, pooling));
    found.push(
      benches.map((bench, station) => {
        const apparatus = bench.drawApparatus(stream.fork(2 * station));
        for (const quantity of common) apparatus[quantity] = shared[quantity];
        const results = resultsOf(bench, apparatus, stream.fork(2 * station + 1), options);
        if (results.ok) return { set: stations[station].set, ...results.value };
        failures.push(...results.problems.slice(0, 1));
        return null;
      }),
    );
    options.progress?.(index + 1, rehearsals);
  }
  const [firstFailure = null] = failures;
  const expected = stations.map((station, index) =>
    expectStation(
      pipeline,
      station,
      found.flatMap((row) => row[index] ?? []),
      rehearsals,
    ),
  );
  if (firstFailure !== null && expected.some(({ failed }) => failed === rehearsals))
    return fail(firstFailure);
  const whole = found.flatMap((row) => {
    const present = row.flatMap((one) => one ?? []);
    return present.length < stations.length ? [] : [present];
  });
  const pooled =
    pooling === null
      ? acrossAll(pipeline, benches, whole, options)
      : poolAll(pipeline, pooling, counts, found, truths);
  return succeed({
    stations: expected,
    pooled,
    example: pooling === null ? null : exampleOf(pipeline, pooling, found[0] ?? []),
    rehearsals,
    firstFailure,
  });
}

/** What one station found in one class. */
type Found = StationResults & GroupResults;

function resultsOf(
  bench: Bench,
  apparatus: Float64Array,
  random: ReturnType<typeof randomSource>,
  { subset }: ClassOptions,
) {
  const runs = bench.takeRuns(apparatus, random, subset ?? allEffects(bench.pipeline.lab));
  return runs.ok ? bench.reduce(runs.value) : runs;
}

function expectStation(
  pipeline: Pipeline,
  station: StationOfGroup,
  found: readonly StationResults[],
  rehearsals: number,
): ExpectedStation {
  const values = pipeline.values(pipeline.nominal, station.set);
  return {
    station,
    results: pipeline.lab.results.map((result, index) => ({
      result,
      theory: result.theory?.evaluate(values) ?? Number.NaN,
      ...spreadOf(found.map((row) => row.values[index])),
    })),
    failed: rehearsals - found.length,
  };
}

/** What theory says of each pooled result with the quantities that a class really has. */
function theoriesOf(
  pipeline: Pipeline,
  shared: Float64Array,
  common: ReadonlySet<number>,
  pooling: Pooling | null,
): Float64Array {
  const base = Float64Array.from(pipeline.nominal);
  for (const index of common) base[index] = shared[index];
  const values = pipeline.values(base);
  return Float64Array.from(pooling?.results ?? [], ({ theory }) => theory?.evaluate(values) ?? Number.NaN);
}

function poolAll(
  pipeline: Pipeline,
  pooling: Pooling,
  counts: readonly number[],
  found: readonly (readonly (StationResults | null)[])[],
  truths: readonly Float64Array[],
): readonly PooledOutlook[] {
  return counts.flatMap((groups) => {
    const classes = found.flatMap((row, index) => {
      const present = row.slice(0, groups).flatMap((station) => station ?? []);
      if (present.length < groups) return [];
      const pooled = poolResults(pipeline, pooling, present);
      return pooled.ok ? [{ pooled: pooled.value, truth: truths[index] }] : [];
    });
    const nominal = pipeline.values(pipeline.nominal);
    return pooling.results.map((result, place): PooledOutlook => {
      const own = classes.flatMap(({ pooled, truth }) => {
        const value = pooled.results[place];
        return value === undefined ? [] : [{ ...value, truth: truth[place] }];
      });
      const stated = own.map(({ standardUncertainty }) => standardUncertainty);
      return {
        groups,
        result,
        theory: result.theory?.evaluate(nominal) ?? Number.NaN,
        ...spreadOf(own.map(({ value }) => value)),
        stated: stated.reduce((sum, u) => sum + u, 0) / stated.length,
        coverage:
          result.theory === null
            ? Number.NaN
            : own.filter(({ value, standardUncertainty, degreesOfFreedom, truth }) => {
                const factor = studentQuantile(0.975, degreesOfFreedom);
                return Math.abs(value - truth) <= factor * standardUncertainty;
              }).length / own.length,
        rehearsals: own.length,
      };
    });
  });
}

/** What no station finds alone, from the runs of all of them. */
function acrossAll(
  pipeline: Pipeline,
  benches: readonly Bench[],
  classes: readonly (readonly Found[])[],
  { subset }: ClassOptions,
): readonly PooledOutlook[] {
  const { lab } = pipeline;
  const wanted = lab.results.filter(
    ({ scope }, index) =>
      scope === 'across' &&
      classes.every((row) => row.every(({ values }) => Number.isNaN(values[index] ?? Number.NaN))),
  );
  if (wanted.length === 0 || benches.length < 2) return [];
  const found = classes.flatMap(
    (row) => acrossClass(pipeline, benches, row, subset ?? allEffects(lab)) ?? [],
  );
  const nominal = pipeline.values(pipeline.nominal);
  return wanted.map((result): PooledOutlook => {
    const own = found.flatMap((one) => one.get(result) ?? []);
    return {
      groups: benches.length,
      result,
      theory: result.theory?.evaluate(nominal) ?? Number.NaN,
      ...spreadOf(own.map(({ value }) => value)),
      stated: own.reduce((sum, { standardUncertainty }) => sum + standardUncertainty, 0) / own.length,
      coverage: Number.NaN,
      rehearsals: own.length,
    };
  });
}

function exampleOf(
  pipeline: Pipeline,
  pooling: Pooling,
  row: readonly (StationResults | null)[],
): ClassRehearsal['example'] {
  const stations = row.flatMap((station) => station ?? []);
  const pooled = poolResults(pipeline, pooling, stations, true);
  return pooled.ok ? { stations, pooled: pooled.value } : null;
}

/** Mean, standard deviation and the central 95 %; the least and greatest stand for the limits where there are few. */
function spreadOf(values: readonly number[]): {
  readonly mean: number;
  readonly spread: number;
  readonly low: number;
  readonly high: number;
} {
  const sorted = [...values].sort((a, b) => a - b);
  const n = sorted.length;
  if (n === 0) return { mean: Number.NaN, spread: Number.NaN, low: Number.NaN, high: Number.NaN };
  const mean = sorted.reduce((sum, value) => sum + value, 0) / n;
  const squares = sorted.reduce((sum, value) => sum + (value - mean) ** 2, 0);
  const cut = Math.floor(0.025 * n);
  return {
    mean,
    spread: n < 2 ? Number.NaN : Math.sqrt(squares / (n - 1)),
    low: sorted[cut] ?? Number.NaN,
    high: sorted[n - 1 - cut] ?? Number.NaN,
  };
}
