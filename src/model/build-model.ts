import {
  type Expression,
  ExpressionTooLarge,
  namesIn,
  nodesOf,
  resolvePrimes,
  simplify,
  substitute,
  type Tree,
} from '../expression/index.ts';
import { fail, type Outcome, type Problem, problem, succeed } from '../problem/index.ts';
import { type Dimension, dimensionless, formatDimension, sameDimension } from '../quantity/index.ts';
import { type CheckedModel, checkModel, timeName, wordsOfJump } from './check-model.ts';
import { type Extraction, extractBranches, extractCondition } from './extract-branches.ts';
import { writeFrictionEquations } from './friction-equations.ts';
import { inlineHelpers } from './inline-helpers.ts';
import type { Model, ModelSource, NamedCondition, NamedJump } from './model.ts';
import { placeOf } from './place-of.ts';
import type { Condition, Jump } from './program.ts';
import type { SwitchList } from './switch-list.ts';
import { writeProgram } from './write-program.ts';

/**
 * Checks a model and makes it ready to evolve.
 *
 * Dimensions of states come from their starts. Helpers are put in; `sign`, `abs`, `if`, `min`, `max` and `dry` are
 * taken out as switching functions, each kept once; what depends on quantities alone is worked out once a motion.
 *
 * @returns fails with all problems found: names used twice, circles, wrong dimensions, no end, frictions that cannot
 *   be decided, expressions that grow too large
 */
export function buildModel(source: ModelSource): Outcome<Model> {
  try {
    const inlined = inlineHelpers(source.helpers);
    if (!inlined.ok) return inlined;
    const checked = checkModel(source);
    if (!checked.ok) return checked;
    return assemble(source, inlined.value, checked.value);
  } catch (error) {
    if (!(error instanceof ExpressionTooLarge)) throw error;
    return fail(
      problem(
        'expression-too-large',
        { step: 'model' },
        `The equations of the model grow too large when the helpers are put in: ${error.message}`,
        'Shorten the longest chain of helpers.',
      ),
    );
  }
}

function assemble(
  source: ModelSource,
  helpers: ReadonlyMap<string, Tree>,
  checked: CheckedModel,
): Outcome<Model> {
  const problems: Problem[] = [];
  const list: SwitchList = { switches: [], frictions: [] };
  const stateNames = source.states.map(({ name }) => name);
  const moving = new Set([...stateNames, timeName]);
  const extraction = (expression: Expression, words: string): Extraction => ({
    list,
    moving,
    expression,
    words,
  });
  const written = new Map<string, Tree>();
  const rates = new Map<string, Tree>();
  for (const { name, rate } of source.states) {
    const tree = substitute(rate.tree, helpers);
    if (holdsPrimes(tree)) problems.push(tellPrimesInRate(name, rate));
    written.set(name, tree);
    rates.set(name, extractBranches(extraction(rate, `the rate of ${name}`), tree));
  }
  if (problems.length > 0) return fail(...problems);
  const resolve = (expression: Expression, words: string): Tree => {
    const tree = substitute(expression.tree, helpers);
    checkPrimesThroughFriction(tree, rates, expression, words, problems);
    return resolvePrimes(tree, rates);
  };
  const conditions = (named: readonly NamedCondition[], what: string): Condition[] =>
    named.map(({ name, condition }) => {
      const words = `${what} "${name}"`;
      const truth = extractCondition(extraction(condition, words), resolve(condition, words));
      return { name, place: placeOf(condition, words), truth };
    });
  const signals = source.signals.map(({ name, expression }) => {
    const words = `the signal of ${name}`;
    return extractBranches(extraction(expression, words), resolve(expression, words));
  });
  const stops = conditions(source.stops, 'the stop');
  const holdsWhile = conditions(source.holdsWhile, 'holds while');
  const jumpOf = (condition: Condition, jump: NamedJump): Omit<Jump, 'values'> => {
    const trees = jump.sets.map(({ name, expression }) => {
      const words = wordsOfJump(jump, name);
      return simplify(extractBranches(extraction(expression, words), resolve(expression, words)));
    });
    return { ...condition, trees, states: jump.sets.map(({ name }) => stateNames.indexOf(name)) };
  };
  const jumps = (source.jumps ?? []).flatMap((jump) =>
    conditions([jump], 'the jump').map((condition) => jumpOf(condition, jump)),
  );
  const friction = writeFrictionEquations(list.frictions, rates, problems);
  if (problems.length > 0) return fail(...problems);
  const program = writeProgram({
    parameterNames: source.parameters.map(({ name }) => name),
    stateNames,
    stateUnits: stateNames.map((name) => unitText(checked.stateDimensions.get(name) ?? dimensionless)),
    starts: source.states.map(({ start }) => substitute(start.tree, helpers)),
    lasts: source.lasts === undefined ? undefined : substitute(source.lasts.tree, helpers),
    rates,
    signals,
    stops,
    holdsWhile,
    jumps,
    list,
    friction,
    tables: source.tables ?? new Map(),
    timeName,
  });
  return succeed({
    stateNames,
    parameterNames: source.parameters.map(({ name }) => name),
    signalNames: source.signals.map(({ name }) => name),
    dimensionOfState: finder(checked.stateDimensions, 'state'),
    dimensionOfSignal: finder(checked.signalDimensions, 'signal'),
    rates: written,
    program,
  });
}

function holdsPrimes(tree: Tree): boolean {
  return nodesOf(tree).some((node) => node.kind === 'name' && node.primes > 0);
}

function tellPrimesInRate(name: string, rate: Expression): Problem {
  return problem(
    'prime-in-rate',
    placeOf(rate, `the rate of ${name}`),
    `The rate of ${name} uses a rate of change (a prime), by itself or through a helper; a rate must be given by states, quantities and the time.`,
    'Write the rate that the prime stands for.',
  );
}

/** The value that a sticking friction holds has no formula, so its own rate of change is not known. */
function checkPrimesThroughFriction(
  tree: Tree,
  rates: ReadonlyMap<string, Tree>,
  expression: Expression,
  words: string,
  problems: Problem[],
): void {
  for (const node of nodesOf(tree)) {
    if (node.kind !== 'name' || node.primes < 2 || !rates.has(node.name)) continue;
    const before = resolvePrimes({ ...node, primes: node.primes - 1 }, rates);
    if (![...namesIn(before)].some((name) => name.startsWith('#holding'))) continue;
    const { name, primes } = node;
    problems.push(
      problem(
        'rate-of-friction',
        placeOf(expression, words, node),
        `${name}${"'".repeat(primes)} asks how fast a dry friction changes, which is not known while it sticks; ask for ${name}${"'".repeat(primes - 1)} at most.`,
      ),
    );
  }
}

function unitText(dimension: Dimension): string {
  return sameDimension(dimension, dimensionless) ? '' : formatDimension(dimension);
}

function finder(dimensions: ReadonlyMap<string, Dimension>, what: string): (name: string) => Dimension {
  return (name) => {
    const found = dimensions.get(name);
    if (found === undefined) throw new RangeError(`The model has no ${what} "${name}".`);
    return found;
  };
}
