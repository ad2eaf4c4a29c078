import {
  checkCondition,
  checkDimensions,
  type Expression,
  namesIn,
  type Scope,
} from '../expression/index.ts';
import { fail, type Outcome, type Problem, problem, succeed } from '../problem/index.ts';
import { type Dimension, divideDimensions } from '../quantity/index.ts';
import type { ModelSource, Named, NamedCondition } from './model.ts';
import { placeOf } from './place-of.ts';

/** The name of the time in every model. */
export const timeName = 't';
const time: Dimension = [0, 0, 1, 0, 0, 0, 0];

/** `the jump "the ball meets the floor", v`: where a new value stands, for messages. */
export function wordsOfJump(jump: NamedCondition, state: string): string {
  return `the jump "${jump.name}", ${state}`;
}

/** What the check of a model finds out. */
export interface CheckedModel {
  readonly stateDimensions: ReadonlyMap<string, Dimension>;
  readonly signalDimensions: ReadonlyMap<string, Dimension>;
}

/**
 * Checks names and dimensions of a whole model, and finds the dimensions of states (from their starts) and signals.
 *
 * Helpers must be free of circles. All problems are told; what uses a symbol that has a problem is not told again.
 */
export function checkModel(source: ModelSource): Outcome<CheckedModel> {
  const problems: Problem[] = [...checkNames(source)];
  const broken = new Set<string>();
  const states = checkStarts(source, broken, problems);
  const parameters = source.parameters.map(({ name, dimension }) => [name, dimension] as const);
  const known = new Map([...parameters, ...states, [timeName, time] as const]);
  const plain = addHelpers(makeScope(source, known, new Set()), source.helpers, broken, problems);
  const primed: Scope = { ...plain, primes: new Set(states.keys()) };
  checkRates(source, states, plain, broken, problems);
  const signals = new Map<string, Dimension>();
  for (const { name, expression } of source.signals) {
    if (!isUsable(expression, broken)) continue;
    const outcome = checkDimensions(expression, primed);
    if (outcome.ok) signals.set(name, outcome.value);
    else problems.push(...outcome.problems);
  }
  for (const { condition } of [...source.stops, ...source.holdsWhile, ...(source.jumps ?? [])]) {
    if (!isUsable(condition, broken)) continue;
    const outcome = checkCondition(condition, primed);
    if (!outcome.ok) problems.push(...outcome.problems);
  }
  checkJumps(source, states, primed, broken, problems);
  return problems.length > 0
    ? fail(...problems)
    : succeed({ stateDimensions: states, signalDimensions: signals });
}

function isUsable({ tree }: Expression, broken: ReadonlySet<string>): boolean {
  return ![...namesIn(tree)].some((name) => broken.has(name));
}

/**
 * Starts and duration: quantities decide them, by helpers of quantities too.
 *
 * @param broken gets the states whose start has a problem
 */
function checkStarts(
  source: ModelSource,
  broken: Set<string>,
  problems: Problem[],
): ReadonlyMap<string, Dimension> {
  const parameters = new Map(source.parameters.map(({ name, dimension }) => [name, dimension]));
  const brokenHelpers = new Set<string>();
  // Helpers are told of where all of them are checked.
  const untold: Problem[] = [];
  const fixed = findFixedHelpers(source.helpers, parameters);
  const scope = addHelpers(makeScope(source, parameters, new Set()), fixed, brokenHelpers, untold);
  const states = new Map<string, Dimension>();
  for (const { name, start } of source.states) {
    const outcome = isUsable(start, brokenHelpers) ? checkDimensions(start, scope) : undefined;
    if (outcome?.ok) {
      states.set(name, outcome.value);
    } else {
      broken.add(name);
      problems.push(...(outcome?.problems ?? []));
    }
  }
  if (source.lasts !== undefined && isUsable(source.lasts, brokenHelpers)) {
    const expected = { dimension: time, what: 'the time that the model lasts' };
    const outcome = checkDimensions(source.lasts, scope, expected);
    if (!outcome.ok) problems.push(...outcome.problems);
  }
  return states;
}

function checkRates(
  source: ModelSource,
  states: ReadonlyMap<string, Dimension>,
  scope: Scope,
  broken: ReadonlySet<string>,
  problems: Problem[],
): void {
  const bareZeros = new Set(source.states.filter(({ start }) => isBareZero(start)).map(({ name }) => name));
  for (const { name, rate } of source.states) {
    const own = states.get(name);
    if (own === undefined || !isUsable(rate, broken)) continue;
    const expected = { dimension: divideDimensions(own, time), what: `the rate of ${name}` };
    const outcome = checkDimensions(rate, scope, expected);
    if (outcome.ok) continue;
    const suspect = [name, ...namesIn(rate.tree)].find((candidate) => bareZeros.has(candidate));
    problems.push(
      ...outcome.problems.map((found) => (suspect === undefined ? found : adviseUnit(found, suspect))),
    );
  }
}

function isBareZero({ tree }: Expression): boolean {
  return tree.kind === 'number' && tree.value === 0 && tree.unit === undefined;
}

/** The helpers that quantities alone decide: a start and a duration may use them. */
function findFixedHelpers(helpers: readonly Named[], parameters: ReadonlyMap<string, Dimension>): Named[] {
  const fixed = new Set(parameters.keys());
  const found: Named[] = [];
  for (let grows = true; grows; ) {
    grows = false;
    for (const helper of helpers) {
      if (fixed.has(helper.name)) continue;
      if (![...namesIn(helper.expression.tree)].every((name) => fixed.has(name))) continue;
      fixed.add(helper.name);
      found.push(helper);
      grows = true;
    }
  }
  return found;
}

/** Every jump sets states, each once, to values of their own dimension. */
function checkJumps(
  source: ModelSource,
  states: ReadonlyMap<string, Dimension>,
  scope: Scope,
  broken: ReadonlySet<string>,
  problems: Problem[],
): void {
  const known = new Set(source.states.map(({ name }) => name));
  for (const jump of source.jumps ?? []) {
    if (jump.sets.length === 0) {
      const place = placeOf(jump.condition, `the jump "${jump.name}"`);
      const message = `The jump "${jump.name}" sets nothing; a jump gives at least one state a new value.`;
      problems.push(problem('jump-sets-nothing', place, message));
    }
    for (const { name, expression } of jump.sets) {
      const words = wordsOfJump(jump, name);
      if (!known.has(name)) {
        const message = `The jump "${jump.name}" sets ${name}, which is no state; only states can jump.`;
        const advice = `The states are ${[...known].join(', ')}.`;
        problems.push(problem('jump-of-no-state', placeOf(expression, words), message, advice));
        continue;
      }
      const dimension = states.get(name);
      if (dimension === undefined || !isUsable(expression, broken)) continue;
      const outcome = checkDimensions(expression, scope, { dimension, what: words });
      if (!outcome.ok) problems.push(...outcome.problems);
    }
  }
}

/** A problem with a rate where a state starts at a bare 0 may be that the 0 lacks its unit. */
function adviseUnit(found: Problem, name: string): Problem {
  if (found.code !== 'wrong-dimension') return found;
  const advice = `${name} starts at a bare 0 and so counts as dimensionless; give the 0 its unit if it has one.`;
  return { ...found, tryThis: found.tryThis === undefined ? advice : `${found.tryThis} ${advice}` };
}

function checkNames(source: ModelSource): Problem[] {
  const problems: Problem[] = [];
  const taken = new Map<string, string>([[timeName, 'the time']]);
  for (const { name } of source.parameters) taken.set(name, 'a quantity');
  const entries = [
    ...source.states.map((state) => ({ name: state.name, expression: state.start, what: 'a state' })),
    ...source.helpers.map((helper) => ({ ...helper, what: 'a helper' })),
  ];
  for (const { name, expression, what } of entries) {
    const other = taken.get(name);
    if (other !== undefined) {
      const place = placeOf(expression, `model, ${name}`);
      problems.push(
        problem(
          'name-taken',
          place,
          `"${name}" is ${what} here and ${other} too; a name can mean one thing only.`,
        ),
      );
    }
    taken.set(name, what);
  }
  if (source.states.length === 0) {
    problems.push(
      problem('no-states', { step: 'model' }, 'The model has no state; a model that evolves needs one.'),
    );
  }
  if (source.stops.length === 0 && source.lasts === undefined) {
    problems.push(
      problem(
        'never-stops',
        { step: 'model' },
        'The model never stops: it has neither a stop nor a time that it lasts.',
        'Add a condition under "stops", or "lasts".',
      ),
    );
  }
  return problems;
}

function makeScope(
  source: ModelSource,
  known: ReadonlyMap<string, Dimension>,
  primes: ReadonlySet<string>,
): Scope {
  return {
    dimensionOf: (name) => known.get(name),
    names: () => known.keys(),
    ...(source.tables === undefined ? {} : { tables: source.tables }),
    primes,
    time,
  };
}

/**
 * Adds the helpers to a scope, each checked once, in the order of their need.
 *
 * @param broken gets the helpers that have a problem, and those that need them: what uses them is not told again
 */
function addHelpers(
  scope: Scope,
  helpers: readonly Named[],
  broken: Set<string>,
  problems: Problem[],
): Scope {
  const known = new Map<string, Dimension>();
  const wider: Scope = {
    ...scope,
    dimensionOf: (name) => known.get(name) ?? scope.dimensionOf(name),
    names: () => [...scope.names(), ...helpers.map(({ name }) => name)],
  };
  const waiting = new Map(helpers.map((helper) => [helper.name, helper]));
  const check = ({ name, expression }: Named): void => {
    waiting.delete(name);
    const needs = [...namesIn(expression.tree)];
    for (const need of needs) {
      const needed = waiting.get(need);
      if (needed !== undefined) check(needed);
    }
    if (needs.some((need) => broken.has(need))) {
      broken.add(name);
      return;
    }
    const outcome = checkDimensions(expression, wider);
    if (outcome.ok) {
      known.set(name, outcome.value);
    } else {
      broken.add(name);
      problems.push(...outcome.problems);
    }
  };
  for (const helper of helpers) if (waiting.has(helper.name)) check(helper);
  return wider;
}
