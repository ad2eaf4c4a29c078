import type { Readings } from '../instrument/index.ts';
import { type BatchSimulator, createBatchSimulator, type Pipeline } from '../lab/index.ts';
import type { Problem } from '../problem/index.ts';
import type { RunGroup } from './groups.ts';
import {
  allEffects,
  needsUncertainties,
  type RunScalars,
  reduceSimulated,
  settingsOff,
  simulateGroup,
  valuesOfGroup,
} from './outputs.ts';
import type { RunVariation } from './run-variation.ts';

/** Many points at which runs of each group are simulated. */
export interface RunPoints {
  readonly count: number;
  /** The effects that are on at each point: bit i for effect i. */
  readonly subsets: Uint32Array;
  /** count × base quantities, SI. */
  readonly base: Float64Array;
  /** Examples of single runs that are averaged over, at a point. */
  readonly variationAt: (point: number) => RunVariation;
  /** So many points, one after another, stand or fall together: once one has failed, the others need not be done. */
  readonly together: number;
}

/** Takes what the runs of many points gave. */
export interface RunsTaker {
  /** count × groups × width, SI. */
  readonly scalars: Float64Array;
  /** Receives 1 for each point all of whose runs succeeded, 0 for the others. */
  readonly sound: Uint8Array;
  /** Told of the first problem of a point. */
  note(index: number, problems: readonly Problem[]): void;
}

/** Simulates and reduces runs at many points, and keeps what is made once for a lab. */
export interface ManyRuns {
  /**
   * Numbers of a run: the scalars that are wanted in their order, then, where steps read uncertainties, the standard
   * uncertainty of each.
   */
  readonly width: number;
  /**
   * What the runs of each group give on average at every point, as `simulateGroups` has it, within the tolerance of
   * the evolution. Points that are not done because the signal asks to stop are not sound.
   *
   * @param at the lab's pipeline, with the author's values that the settings of groups are shifted from
   */
  simulate(at: Pipeline, points: RunPoints, taker: RunsTaker, signal?: { readonly aborted: boolean }): void;
  /**
   * Every trial of every group with the base values of every point, all effects on.
   *
   * @param values receives count × trials (group by group) × width, SI
   * @param sound  receives 1 for each point at which every trial could be reduced
   */
  reduceTrials(
    at: Pipeline,
    base: Float64Array,
    count: number,
    values: Float64Array,
    sound: Uint8Array,
  ): void;
  /** How many runs of a point so far were for the general way, on average. */
  generalRunsPerPoint(): number;
}

/** Runs worked on at a time. */
const RUNS_AT_ONCE = 512;

/**
 * Makes what simulates many runs of a lab: in the batch engine where it can follow the model and the steps of
 * `each run`, in the general way elsewhere.
 *
 * @param names scalars of `each run` that are wanted
 * @param relativeTolerance of the batch engine; the general way keeps its own
 */
export function createManyRuns(
  pipeline: Pipeline,
  groups: readonly RunGroup[],
  names: readonly string[],
  relativeTolerance?: number,
): ManyRuns {
  const { lab } = pipeline;
  const baseCount = pipeline.nominal.length;
  const perPoint = groups.length;
  const findsUncertainties = needsUncertainties(lab);
  const options = { findsUncertainties };
  const width = (findsUncertainties ? 2 : 1) * names.length;
  const batch = batchOf(pipeline, groups[0], names, relativeTolerance);
  const rowLength = batch?.rowLength ?? lab.quantities.all.length;
  const asReduced = batch?.asReduced ?? [];
  const rows = new Float64Array(RUNS_AT_ONCE * rowLength);
  const found = new Float64Array(RUNS_AT_ONCE * width);
  let pointsDone = 0;
  let generalRuns = 0;

  /** The quantities of a run, as `valuesOfGroup` sets them, and those that its reduction takes as they are given. */
  const fillRow = (
    { nominal }: Pipeline,
    base: Float64Array,
    deviations: Float64Array | null,
    group: RunGroup,
    subset: number,
    row: number,
  ): void => {
    const to = row * rowLength;
    const fill = (own: (index: number) => number): void => {
      for (let i = 0; i < baseCount; i++) rows[to + i] = own(i);
      for (const { quantity, value } of group.when) {
        rows[to + quantity.index] = value + (own(quantity.index) - nominal[quantity.index]);
      }
      for (const { quantity, value } of settingsOff(lab, subset)) rows[to + quantity.index] = value;
    };
    fill((index) => base[index]);
    for (const [i, index] of asReduced.entries()) {
      rows[to + rowLength - asReduced.length + i] = rows[to + index];
    }
    if (deviations !== null) fill((index) => base[index] + deviations[index]);
  };

  const keep = (run: RunScalars, out: Float64Array, at: number): boolean => {
    for (let i = 0; i < names.length; i++) {
      const scalar = run.scalars.get(names[i]);
      if (scalar === undefined) return false;
      out[at + i] = scalar.value;
      if (findsUncertainties) out[at + names.length + i] = scalar.standardUncertainty;
    }
    return true;
  };

  /** The examples of a run that a subset leaves apart, as `valuesOfNodes` has them; one null where all are alike. */
  const nodesOf = ({ nodes }: RunVariation, subset: number): readonly (Float64Array | null)[] => {
    const [first] = nodes;
    const off = settingsOff(lab, subset);
    for (let index = 0; index < baseCount; index++) {
      if (first[index] !== 0 && !off.some(({ quantity }) => quantity.index === index)) return nodes;
    }
    return ALIKE;
  };

  const simulate: ManyRuns['simulate'] = (at, points, { scalars, sound, note }, signal) => {
    let failedSet = -1;
    const place = { point: new Int32Array(RUNS_AT_ONCE), group: new Int32Array(RUNS_AT_ONCE) };
    const deviationsOf: (Float64Array | null)[] = new Array(RUNS_AT_ONCE).fill(null);
    const means = new Int32Array(points.count * perPoint);
    let waiting = 0;

    const inGeneral = (row: number, readings: readonly Readings[] | null): void => {
      const point = place.point[row];
      const set = Math.floor(point / points.together);
      if (set === failedSet || sound[point] === 0 || signal?.aborted === true) {
        sound[point] = 0;
        return;
      }
      if (readings === null) generalRuns += 1;
      const group = groups[place.group[row]];
      const subset = points.subsets[point];
      const base = points.base.subarray(point * baseCount, (point + 1) * baseCount);
      const deviations = deviationsOf[row];
      const reduceWith = valuesOfGroup(at, base, group, subset);
      const own =
        deviations === null
          ? reduceWith
          : valuesOfGroup(
              at,
              base.map((value, index) => value + deviations[index]),
              group,
              subset,
            );
      const run =
        readings === null
          ? simulateGroup(at, group, place.group[row], own, reduceWith)
          : reduceSimulated(at, readings, reduceWith, group, place.group[row], options);
      if (run.ok && keep(run.value, found, row * width)) return;
      sound[point] = 0;
      failedSet = set;
      if (!run.ok) note(point, run.problems);
    };

    const work = (): void => {
      if (batch === null) for (let row = 0; row < waiting; row++) inGeneral(row, null);
      const done = batch === null ? waiting : batch.run(rows, waiting, found, inGeneral, signal);
      for (let row = 0; row < waiting; row++) {
        const point = place.point[row];
        if (row >= done || signal?.aborted === true) sound[point] = 0;
        const to = (point * perPoint + place.group[row]) * width;
        for (let i = 0; i < width; i++) scalars[to + i] += found[row * width + i];
        means[point * perPoint + place.group[row]] += 1;
      }
      waiting = 0;
    };

    scalars.fill(0);
    sound.fill(1, 0, points.count);
    pointsDone += points.count;
    for (let point = 0; point < points.count; point++) {
      const subset = points.subsets[point];
      const base = points.base.subarray(point * baseCount, (point + 1) * baseCount);
      for (const deviations of nodesOf(points.variationAt(point), subset)) {
        for (let group = 0; group < perPoint; group++) {
          if (batch !== null) fillRow(at, base, deviations, groups[group], subset, waiting);
          place.point[waiting] = point;
          place.group[waiting] = group;
          deviationsOf[waiting] = deviations;
          waiting += 1;
          if (waiting === RUNS_AT_ONCE) work();
        }
      }
      if (signal?.aborted === true) {
        sound.fill(0, point, points.count);
        break;
      }
    }
    work();
    for (let i = 0; i < means.length; i++) {
      if (means[i] > 1) for (let k = 0; k < width; k++) scalars[i * width + k] /= means[i];
    }
  };

  return {
    width,
    simulate,
    generalRunsPerPoint: () => (pointsDone === 0 ? 0 : generalRuns / pointsDone),
    reduceTrials(at, base, count, values, sound) {
      const trials = groups.flatMap((group, index) => group.trials.map((trial) => ({ trial, group, index })));
      const subset = allEffects(lab);
      const reduced = new Uint8Array(RUNS_AT_ONCE);
      sound.fill(1, 0, count);
      for (let first = 0; first < count; first += RUNS_AT_ONCE) {
        const some = Math.min(RUNS_AT_ONCE, count - first);
        const baseOf = (i: number): Float64Array =>
          base.subarray((first + i) * baseCount, (first + i + 1) * baseCount);
        for (const [place, { trial, group, index }] of trials.entries()) {
          reduced.fill(0);
          if (batch !== null) {
            for (let i = 0; i < some; i++) fillRow(at, baseOf(i), null, group, subset, i);
            batch.reduce(rows, some, trial.readings, found, reduced);
          }
          for (let i = 0; i < some; i++) {
            const to = ((first + i) * trials.length + place) * width;
            if (reduced[i] === 1) {
              for (let k = 0; k < width; k++) values[to + k] = found[i * width + k];
              continue;
            }
            const given = valuesOfGroup(at, baseOf(i), group, subset);
            const run = reduceSimulated(at, trial.readings, given, group, index, options);
            if (!run.ok || !keep(run.value, values, to)) sound[first + i] = 0;
          }
        }
      }
    },
  };
}

/** A single run, which has what is given. */
const ALIKE: readonly null[] = [null];

/** The batch simulator of the lab; the usual run tells how many readings to make room for. */
function batchOf(
  pipeline: Pipeline,
  group: RunGroup | undefined,
  names: readonly string[],
  relativeTolerance: number | undefined,
): BatchSimulator | null {
  const { lab } = pipeline;
  if (group === undefined) return null;
  const usual = pipeline.simulate(valuesOfGroup(pipeline, pipeline.nominal, group, allEffects(lab)));
  if (!usual.ok) return null;
  return createBatchSimulator(lab, usual.value.readings, {
    scalars: needsUncertainties(lab) ? null : names,
    ...(relativeTolerance !== undefined && { relativeTolerance }),
  });
}
