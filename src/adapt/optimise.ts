import { randomSource } from '../inference/index.ts';
import type { Setting } from '../lab/index.ts';
import { fail, type Outcome, type Problem, problem, succeed } from '../problem/index.ts';
import { hypotenuse } from '../wasm/index.ts';
import { type AdaptCondition, marginAt } from './condition.ts';
import type { Gauge, Spot } from './gauge.ts';
import type { Measure } from './measure.ts';
import { pollDirections } from './poll-directions.ts';
import { placesOf, type Variation } from './variation.ts';

/** What is looked for: the largest or the least value of a measure. */
export interface Aim {
  readonly measure: Measure;
  readonly sense: 'largest' | 'least';
}

/** The best choice that was found. */
export interface Optimum {
  readonly aim: Aim;
  readonly conditions: readonly AdaptCondition[];
  readonly settings: readonly Setting[];
  /** Of the measure, SI. */
  readonly value: number;
  /** For each condition how far inside its limit the choice lies, SI. */
  readonly margins: readonly number[];
  /** Varied quantities that stand at an end of their range: a wider range may hold a better choice. */
  readonly atEnd: readonly string[];
  /** The best of each combination of listed values, the best first. */
  readonly runnersUp: readonly { readonly settings: readonly Setting[]; readonly value: number }[];
  readonly method: OptimumMethod;
}

/** How the choice was found, in numbers. */
export interface OptimumMethod {
  /** Combinations of listed values, all of which were gone through. */
  readonly combinations: number;
  /** Places of the grid over the ranges, for each combination. */
  readonly grid: number;
  /** Combinations from which the grid's best place was refined. */
  readonly refined: number;
  readonly evaluations: number;
  /** Choices that met the conditions, of those on the grid. */
  readonly allowed: number;
  readonly failed: number;
  readonly firstFailure: Problem | null;
}

export interface OptimiseOptions {
  /** Places of the grid along each range; default 9 for one range, 7 for two, 5 for more. */
  readonly places?: number;
  readonly progress?: (done: number, total: number) => void;
  readonly signal?: { readonly aborted: boolean };
}

/** How far the best places are refined. */
interface Effort {
  /** Combinations whose best place is refined: others lie behind already on the grid. */
  readonly refined: number;
  /** A search ends when its step is this share of each range. */
  readonly smallestStep: number;
  /** How often directions are turned before the step is halved. */
  readonly turns: number;
  /** Most evaluations of one refinement. */
  readonly evaluations: number;
}

const FINE: Effort = { refined: 5, smallestStep: 1e-8, turns: 8, evaluations: 4000 };

/** A scatter is rehearsed, and known to a tenth of itself: finer steps would follow the draws. */
const COARSE: Effort = { refined: 2, smallestStep: 4e-3, turns: 2, evaluations: 60 };

const MOST_CHOICES = 20_000;

/**
 * The best choice under conditions: goes through every combination of listed values and an even grid over the ranges,
 * then refines the best places without derivatives. Exhaustive over lists; over ranges as fine as its grid, so a peak
 * narrower than the grid can be missed.
 *
 * @returns fails where no choice on the grid meets all conditions
 */
export function optimise(
  gauge: Gauge,
  aim: Aim,
  conditions: readonly AdaptCondition[],
  variations: readonly Variation[],
  fixed: readonly Setting[] = [],
  options: OptimiseOptions = {},
): Outcome<Optimum> {
  const { file } = gauge.pipeline.lab;
  const lists = variations.filter(({ kind }) => kind === 'list');
  const ranges = variations.flatMap((variation) => (variation.kind === 'range' ? [variation] : []));
  const count = options.places ?? [9, 9, 7][ranges.length] ?? 5;
  const combinations = combine(lists.map((list) => settingsOf(list, placesOf(list, 0))));
  const grid = combine(ranges.map((range) => settingsOf(range, placesOf(range, count))));
  const total = combinations.length * grid.length;
  if (total > MOST_CHOICES) {
    const message = `There are ${total} choices to go through; at most ${MOST_CHOICES} are.`;
    return fail(problem('usage', { file }, message, 'Vary fewer quantities, or list fewer values.'));
  }
  const judge = createJudge(gauge, aim, conditions, fixed);
  let done = 0;
  let allowed = 0;
  const starts: Candidate[] = [];
  for (const combination of combinations) {
    let best: Candidate | null = null;
    for (const place of grid) {
      if (options.signal?.aborted === true)
        return fail(problem('cancelled', { file }, 'The computation was cancelled.'));
      const candidate = judge.look([...combination, ...place]);
      if (candidate !== null) allowed += 1;
      if (candidate !== null && (best === null || candidate.score > best.score)) best = candidate;
      done += 1;
      options.progress?.(done, total);
    }
    if (best !== null) starts.push(best);
  }
  if (starts.length === 0) return fail(noneAllowed(judge, conditions, total, file));
  starts.sort((a, b) => b.score - a.score);
  const isRehearsed = [aim, ...conditions].some(
    ({ measure: { kind } }) => kind === 'u' || kind === 'visible',
  );
  const effort = isRehearsed ? COARSE : FINE;
  const refined = ranges.length === 0 ? [] : starts.slice(0, effort.refined);
  const ends = refined.map((start) => refine(start, ranges, count, judge, effort, options.signal));
  const found = [...ends, ...starts.slice(refined.length)].sort((a, b) => b.score - a.score);
  const [best] = found;
  if (best === undefined) return fail(noneAllowed(judge, conditions, total, file));
  const sign = aim.sense === 'largest' ? 1 : -1;
  return succeed({
    aim,
    conditions,
    settings: best.settings,
    value: sign * best.score,
    margins: best.margins,
    atEnd: ranges.filter((range) => isAtEnd(range, best.settings)).map(({ quantity }) => quantity.name),
    runnersUp: found.slice(1, 6).map(({ settings, score }) => ({ settings, value: sign * score })),
    method: {
      combinations: combinations.length,
      grid: grid.length,
      refined: refined.length,
      evaluations: judge.evaluations(),
      allowed,
      failed: judge.failed(),
      firstFailure: judge.firstFailure(),
    },
  });
}

type Range = Extract<Variation, { readonly kind: 'range' }>;

interface Candidate {
  readonly settings: readonly Setting[];
  /** The measure, or its negative where the least is looked for. */
  readonly score: number;
  readonly margins: readonly number[];
}

interface Judge {
  /** Null where a condition is not met, or the lab cannot be run. */
  look(settings: readonly Setting[]): Candidate | null;
  evaluations(): number;
  failed(): number;
  firstFailure(): Problem | null;
}

function createJudge(
  gauge: Gauge,
  aim: Aim,
  conditions: readonly AdaptCondition[],
  fixed: readonly Setting[],
): Judge {
  let evaluations = 0;
  let failed = 0;
  let firstFailure: Problem | null = null;
  const note = (problems: readonly Problem[]): null => {
    failed += 1;
    firstFailure ??= problems[0] ?? null;
    return null;
  };
  const look = (spot: Spot, settings: readonly Setting[]): Candidate | null => {
    const margins: number[] = [];
    // Conditions come first: most of them cost less than the aim.
    for (const condition of conditions) {
      const margin = marginAt(condition, spot);
      if (!margin.ok) return note(margin.problems);
      if (!(margin.value >= 0)) return null;
      margins.push(margin.value);
    }
    const value = aim.measure.evaluate(spot);
    if (!value.ok) return note(value.problems);
    if (!Number.isFinite(value.value)) return null;
    return { settings, score: aim.sense === 'largest' ? value.value : -value.value, margins };
  };
  return {
    look(settings) {
      evaluations += 1;
      return look(gauge.at([...fixed, ...settings]), settings);
    },
    evaluations: () => evaluations,
    failed: () => failed,
    firstFailure: () => firstFailure,
  };
}

/** Steps from place to place, each better than the last; the step is halved where no direction leads to a better one. */
function refine(
  start: Candidate,
  ranges: readonly Range[],
  count: number,
  judge: Judge,
  effort: Effort,
  signal: { readonly aborted: boolean } | undefined,
): Candidate {
  const random = randomSource(1);
  const varied = new Set(ranges.map(({ quantity }) => quantity));
  const listed = start.settings.filter(({ quantity }) => !varied.has(quantity));
  const settingsAt = (place: Float64Array): readonly Setting[] => [
    ...listed,
    ...ranges.map(({ quantity, from, to }, index) => ({
      quantity,
      value: from + (to - from) * Math.min(Math.max(place[index], 0), 1),
    })),
  ];
  let best = start;
  let at = Float64Array.from(ranges, ({ quantity, from, to }) => {
    const value = start.settings.find((setting) => setting.quantity === quantity)?.value ?? from;
    return (value - from) / (to - from);
  });
  let step = 0.5 / Math.max(count - 1, 1);
  let last: Float64Array | null = null;
  const before = judge.evaluations();
  /** The best of a step along each direction, both ways; null where none is better than where the search stands. */
  const poll = (directions: readonly Float64Array[]) => {
    let next: { readonly candidate: Candidate; readonly place: Float64Array } | null = null;
    for (const direction of directions) {
      const place = at.map((value, index) => Math.min(Math.max(value + step * direction[index], 0), 1));
      const candidate = judge.look(settingsAt(place));
      if (candidate !== null && candidate.score > (next?.candidate.score ?? best.score))
        next = { candidate, place };
    }
    return next;
  };
  while (step > effort.smallestStep && signal?.aborted !== true) {
    if (judge.evaluations() - before > effort.evaluations) break;
    // The way that was good is tried again; then the axes, for limits mostly stand square to them; then others.
    let next = last === null ? null : poll([last]);
    for (let turn = 0; next === null && turn < (ranges.length === 1 ? 1 : effort.turns); turn++)
      next = poll(bothWays(turn === 0 ? axes(ranges.length) : pollDirections(ranges.length, random)));
    if (next === null) {
      step /= 2;
      last = null;
      continue;
    }
    best = next.candidate;
    last = unitVector(at, next.place);
    at = Float64Array.from(next.place);
    step = Math.min(step * 1.5, 0.25);
  }
  return best;
}

function bothWays(directions: readonly Float64Array[]): readonly Float64Array[] {
  return directions.flatMap((direction) => [direction, direction.map((part) => -part)]);
}

function unitVector(from: Float64Array, to: Float64Array): Float64Array {
  const way = to.map((value, index) => value - from[index]);
  const length = hypotenuse(...way);
  return way.map((part) => part / length);
}

function axes(n: number): readonly Float64Array[] {
  return Array.from({ length: n }, (_, row) =>
    Float64Array.from({ length: n }, (_, column) => (row === column ? 1 : 0)),
  );
}

function settingsOf({ quantity }: Variation, values: readonly number[]): readonly Setting[] {
  return values.map((value) => ({ quantity, value }));
}

function combine(choices: readonly (readonly Setting[])[]): readonly (readonly Setting[])[] {
  return choices.reduce<readonly (readonly Setting[])[]>(
    (before, own) => before.flatMap((settings) => own.map((setting) => [...settings, setting])),
    [[]],
  );
}

function isAtEnd({ quantity, from, to }: Range, settings: readonly Setting[]): boolean {
  const value = settings.find((setting) => setting.quantity === quantity)?.value ?? Number.NaN;
  return Math.min(value - from, to - value) <= 1e-6 * (to - from);
}

function noneAllowed(
  judge: Judge,
  conditions: readonly AdaptCondition[],
  total: number,
  file: string,
): Problem {
  const first = judge.firstFailure();
  if (first !== null && judge.failed() === total) return first;
  const words = conditions.map(({ text }) => text).join(' and ');
  return problem(
    'no-choice-allowed',
    { file },
    words === ''
      ? 'None of the choices gives a number.'
      : `None of the ${total} choices that were looked at meets ${words}.`,
    'Widen the ranges, or loosen a limit.',
  );
}
