import {
  choleskyFactor,
  normalQuantile,
  studentQuantile,
  symmetricEigenvectors,
} from '../inference/index.ts';
import type { Pipeline } from '../lab/index.ts';
import type { Outcome } from '../problem/index.ts';
import { fail, problem, succeed, warning } from '../problem/index.ts';
import type { RunGroup } from './groups.ts';
import { type RunScalars, reduceGroups } from './outputs.ts';
import { rehearsedScatter } from './rehearsed-scatter.ts';

/**
 * What is known of the scatter of the k scalars of one run.
 *
 * Every group has k directions in which the rehearsed scatter is 1 and in which the runs scatter independently; how
 * much more than rehearsed they scatter in a direction is the same in all groups.
 */
export interface Scatter {
  /** From scalars to directions, k × k, one a group. */
  readonly toDirections: readonly Float64Array[];
  /** From directions to scalars, k × k, one a group. */
  readonly toScalars: readonly Float64Array[];
  /** Sums of squares of the runs' deviations from their groups' means in each direction. */
  readonly squares: Float64Array;
  readonly degreesOfFreedom: number;
  /** Variance of one run in each direction, for a first look: as seen, widened where few runs show it, at least 1. */
  readonly variances: Float64Array;
}

/**
 * A scatter seen in few runs is widened by t/z at this probability, so that an interval of 95 % covers as one of
 * Student's distribution would; JCGM 100:2008, G.3.2.
 */
const UPPER = 0.975;

/** Share of the stated variance that a scalar without any rehearsed scatter is taken to have. */
const LEAST = 1e-4;

/** The scatter of the runs within groups, in the directions of what is rehearsed. */
export function poolScatter(
  pipeline: Pipeline,
  groups: readonly RunGroup[],
  using: readonly string[],
): Outcome<Scatter> {
  const reduced = reduceGroups(pipeline, groups, pipeline.nominal, true);
  if (!reduced.ok) return reduced;
  const k = using.length;
  const degreesOfFreedom = reduced.value.length - groups.length;
  const factors: Float64Array[] = [];
  const pooled = new Float64Array(k * k);
  for (const [index, group] of groups.entries()) {
    const runs = reduced.value.filter((run) => run.group === index);
    const floor = floorOf(pipeline, group, using, runs, degreesOfFreedom);
    if (!floor.ok) return floor;
    factors.push(floor.value);
    for (const deviation of deviationsOf(runs, using)) {
      const white = solveLower(floor.value, deviation, k);
      for (let i = 0; i < k; i++) for (let j = 0; j < k; j++) pooled[i * k + j] += white[i] * white[j];
    }
  }
  const { values, vectors } = symmetricEigenvectors(pooled, k);
  const squares = values.map((value) => Math.max(value, 0));
  const seen = degreesOfFreedom === 0 ? 0 : widen(degreesOfFreedom) / degreesOfFreedom;
  return succeed(
    {
      toDirections: factors.map((factor) => directionsOf(factor, vectors, k)),
      toScalars: factors.map((factor) => multiply(factor, vectors, k)),
      squares,
      degreesOfFreedom,
      variances: squares.map((square) => Math.max(1, square * seen)),
    },
    degreesOfFreedom > 0
      ? []
      : [
          warning(
            'few-runs',
            { file: pipeline.lab.file },
            'There is one run a setting, which does not show how runs differ; their scatter is taken as rehearsed, and at least as their steps state it.',
          ),
        ],
  );
}

/**
 * Cholesky factor of the scatter that a run has at least. Where no second run shows more, it is stretched until no
 * scalar has less than its own steps state.
 */
function floorOf(
  pipeline: Pipeline,
  group: RunGroup,
  using: readonly string[],
  runs: readonly RunScalars[],
  degreesOfFreedom: number,
): Outcome<Float64Array> {
  const rehearsed = rehearsedScatter(pipeline, group, using);
  if (!rehearsed.ok) return rehearsed;
  const k = using.length;
  const floor = Float64Array.from(rehearsed.value);
  let stretch = 1;
  for (const [i, name] of using.entries()) {
    const stated = meanSquare(runs.map((run) => run.scalars.get(name)?.standardUncertainty ?? Number.NaN));
    const seen = meanSquare(deviationsOf(runs, [name]).map(([deviation]) => deviation));
    const size = Math.max(Number.isFinite(stated) ? stated : 0, Number.isFinite(seen) ? seen : 0);
    if (!(floor[i * k + i] > 0) && !(size > 0)) {
      return fail(
        problem(
          'no-uncertainty',
          { file: pipeline.lab.file },
          `The runs state no uncertainty of ${name}, show none, and none is rehearsed; the fit cannot weigh them.`,
          'Give the instrument its resolution or noise, or take more runs.',
        ),
      );
    }
    floor[i * k + i] += LEAST * size;
    if (degreesOfFreedom === 0 && stated > floor[i * k + i])
      stretch = Math.max(stretch, stated / floor[i * k + i]);
  }
  const factor = choleskyFactor(
    floor.map((value) => value * stretch),
    k,
  );
  if (factor === null || using.some((_, i) => !(factor[i * k + i] > 0))) {
    return fail(
      problem(
        'no-scatter',
        { file: pipeline.lab.file },
        `${using.join(' and ')} of a run rise and fall together, without any scatter of their own, so the fit cannot weigh them.`,
        'Fit fewer scalars.',
      ),
    );
  }
  return succeed(factor);
}

function meanSquare(values: readonly number[]): number {
  return values.reduce((sum, value) => sum + value * value, 0) / values.length;
}

/** Deviations of each run's scalars from the group's means. */
function deviationsOf(runs: readonly RunScalars[], using: readonly string[]): readonly Float64Array[] {
  const rows = runs.map((run) =>
    Float64Array.from(using, (name) => run.scalars.get(name)?.value ?? Number.NaN),
  );
  return rows.map((row) =>
    row.map((value, i) => value - rows.reduce((sum, other) => sum + other[i], 0) / rows.length),
  );
}

/** By how much a variance known with few degrees of freedom is widened; 1 for infinitely many. */
function widen(degreesOfFreedom: number): number {
  return (studentQuantile(UPPER, degreesOfFreedom) / normalQuantile(UPPER)) ** 2;
}

/** L⁻¹·vector. */
function solveLower(factor: Float64Array, vector: ArrayLike<number>, k: number): Float64Array {
  const solved = new Float64Array(k);
  for (let i = 0; i < k; i++) {
    let rest = vector[i];
    for (let j = 0; j < i; j++) rest -= factor[i * k + j] * solved[j];
    solved[i] = rest / factor[i * k + i];
  }
  return solved;
}

/** Qᵀ·L⁻¹. */
function directionsOf(factor: Float64Array, vectors: Float64Array, k: number): Float64Array {
  const directions = new Float64Array(k * k);
  for (let column = 0; column < k; column++) {
    const unit = new Float64Array(k);
    unit[column] = 1;
    const solved = solveLower(factor, unit, k);
    for (let i = 0; i < k; i++)
      for (let j = 0; j < k; j++) directions[i * k + column] += vectors[j * k + i] * solved[j];
  }
  return directions;
}

function multiply(left: Float64Array, right: Float64Array, k: number): Float64Array {
  const product = new Float64Array(k * k);
  for (let i = 0; i < k; i++)
    for (let j = 0; j < k; j++)
      for (let a = 0; a < k; a++) product[i * k + j] += left[i * k + a] * right[a * k + j];
  return product;
}

/** Differences of group means, groups × scalars, in the directions, each of variance `variances` where it is chance. */
export function intoDirections(
  { toDirections }: Scatter,
  groups: readonly RunGroup[],
  difference: Float64Array,
): Float64Array {
  const k = difference.length / groups.length;
  const directions = new Float64Array(difference.length);
  for (const [group, { trials }] of groups.entries()) {
    const scale = Math.sqrt(trials.length);
    for (let i = 0; i < k; i++) {
      let sum = 0;
      for (let j = 0; j < k; j++) sum += toDirections[group][i * k + j] * difference[group * k + j];
      directions[group * k + i] = sum * scale;
    }
  }
  return directions;
}
