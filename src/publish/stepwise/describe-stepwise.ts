import {
  call,
  expandDerivatives,
  mapTree,
  multiply,
  namesIn,
  negate,
  number,
  sameTree,
  simplify,
  substitute,
  type Tree,
} from '../../expression/index.ts';
import type { Lab, QuantityValues } from '../../lab/index.ts';
import type { EvolutionProgram, Truth } from '../../model/index.ts';
import { fail, type Outcome, problem, succeed } from '../../problem/index.ts';
import { coherentUnit } from '../../quantity/index.ts';
import type { StepwiseFriction, StepwiseModel, StepwiseState, StepwiseTerm } from './stepwise.ts';

export interface StepwiseOptions {
  readonly method: StepwiseModel['method'];
  /** Length of a step, s. */
  readonly stepS: number;
}

/**
 * The model of a lab for those who step it: quantities, terms, rates, friction, stops.
 *
 * @param values all quantities, SI: what the inputs start from
 * @returns fails for a model without time, and where frictions pull on one another, which takes more than one formula
 * @throws RangeError for a step that is not positive
 */
export function describeStepwise(
  lab: Lab,
  values: QuantityValues,
  { method, stepS }: StepwiseOptions,
): Outcome<StepwiseModel> {
  if (!(stepS > 0 && Number.isFinite(stepS)))
    throw new RangeError(`A step must be a positive time, not ${stepS}.`);
  if (lab.model.kind !== 'motion')
    return refuse(lab, 'no-steps', 'The model is not a motion in time, so there are no steps to take.');
  const { model, helpers } = lab.model;
  const { program } = model;
  const written = [...helpers].map(([name, expression]) => ({ name, tree: expression.tree }));
  const velocities: Tree[] = [];
  const rates = new Map<string, Tree>();
  for (const name of model.stateNames) {
    const tree = expandDerivatives(model.rates.get(name) ?? number(0));
    rates.set(name, nameShares(tree, velocities));
  }
  const frictions: StepwiseFriction[] = [];
  for (const [index, velocity] of velocities.entries()) {
    const share = shareName(index);
    const rate = velocity.kind === 'name' ? rates.get(velocity.name) : undefined;
    if (
      velocity.kind !== 'name' ||
      rate === undefined ||
      velocities.some((_v, k) => k !== index && namesIn(rate).has(shareName(k)))
    )
      return refuse(
        lab,
        'friction-too-entangled',
        'A spreadsheet or a short program can follow dry friction only where each acts on a speed of its own.',
      );
    const free = simplify(substitute(rate, new Map([[share, number(0)]])));
    const full = simplify(substitute(rate, new Map([[share, number(1)]])));
    frictions.push({ share, velocity: velocity.name, free, full });
  }
  const terms = orderTerms(written, velocities);
  const fold = (tree: Tree): Tree => nameTerms(tree, terms);
  const states = model.stateNames.map(
    (name, index): StepwiseState => ({
      name,
      unit: coherentUnit(model.dimensionOfState(name)),
      start: withoutHoisting(program, program.trees.starts[index] ?? number(0)),
      rate: fold(rates.get(name) ?? number(0)),
      isPlace: method === 'semi-implicit-euler' && program.placeStates[index] === true,
    }),
  );
  const used = usedTerms(terms, states);
  const stops = program.stops.map(({ name, truth }) => ({
    name,
    margin: withoutHoisting(program, marginOf(program, truth)),
  }));
  const jumps = program.jumps.map(({ name, truth, states: set, trees }) => ({
    name,
    margin: withoutHoisting(program, marginOf(program, truth)),
    sets: set.map((state, k) => ({
      state: model.stateNames[state] ?? '',
      tree: withoutHoisting(program, withoutBranches(program, trees[k] ?? number(0))),
    })),
  }));
  const lasts = program.trees.lasts === null ? null : withoutHoisting(program, program.trees.lasts);
  const needed = quantitiesBehind(lab, [
    ...states.flatMap(({ start, rate }) => [start, rate]),
    ...used.map(({ tree }) => tree),
    ...[...stops, ...jumps].map(({ margin }) => margin),
    ...jumps.flatMap(({ sets }) => sets.map(({ tree }) => tree)),
    ...(lasts === null ? [] : [lasts]),
  ]);
  return succeed({
    method,
    stepS,
    inputs: lab.quantities.base
      .filter(({ name }) => needed.has(name))
      .map(({ name, is, index, unit, estimate, eachRun }) => ({
        name,
        is,
        unit,
        value: values[index] ?? Number.NaN,
        standardUncertainty: Math.hypot(estimate.standardUncertainty, eachRun?.standardUncertainty ?? 0),
      })),
    computed: lab.quantities.derived
      .filter(({ name }) => needed.has(name))
      .map(({ name, is, unit, dimension, expression }) => ({
        name,
        is,
        unit: unit ?? coherentUnit(dimension),
        tree: expandDerivatives(expression.tree),
      })),
    terms: used,
    states,
    frictions,
    stops,
    jumps,
    lasts,
    tables: program.trees.tables,
  });
}

function refuse(lab: Lab, code: string, message: string): Outcome<never> {
  return fail(problem(code, { file: lab.file }, message));
}

function shareName(index: number): string {
  return index === 0 ? 'share' : `share_${index + 1}`;
}

/** Puts limit · share in place of dry(limit, velocity); a velocity seen for the first time joins the list. */
function nameShares(tree: Tree, velocities: Tree[]): Tree {
  return mapTree(tree, (node) => {
    if (node.kind !== 'call' || node.name !== 'dry') return node;
    const [limit = number(0), velocity = number(0)] = node.arguments;
    let index = velocities.findIndex((known) => sameTree(known, velocity));
    if (index < 0) index = velocities.push(velocity) - 1;
    return multiply(limit, { kind: 'name', name: shareName(index), primes: 0, span: node.span });
  });
}

interface Written {
  readonly name: string;
  readonly tree: Tree;
}

/** Helpers of the lab, each after those it needs; one that is but a name or a number is no term. */
function orderTerms(written: readonly Written[], velocities: Tree[]): readonly Written[] {
  const byName = new Map(written.map((one) => [one.name, one]));
  const ordered: Written[] = [];
  const seen = new Set<string>();
  const add = (one: Written): void => {
    if (seen.has(one.name)) return;
    seen.add(one.name);
    for (const name of namesIn(one.tree)) {
      const below = byName.get(name);
      if (below !== undefined) add(below);
    }
    if (one.tree.kind !== 'name' && one.tree.kind !== 'number')
      ordered.push({ name: one.name, tree: nameShares(expandDerivatives(one.tree), velocities) });
  };
  for (const one of written) add(one);
  return ordered;
}

/** The tree with the names of terms where their expressions stood: rates come with all helpers put in. */
function nameTerms(tree: Tree, terms: readonly Written[]): Tree {
  return mapTree(tree, (node) => {
    const term = terms.find((one) => sameTree(one.tree, node));
    return term === undefined ? node : { kind: 'name', name: term.name, primes: 0, span: node.span };
  });
}

function usedTerms(terms: readonly Written[], states: readonly StepwiseState[]): readonly StepwiseTerm[] {
  const needed = new Set(states.flatMap(({ rate }) => [...namesIn(rate)]));
  for (const { name, tree } of [...terms].reverse())
    if (needed.has(name)) for (const below of namesIn(tree)) needed.add(below);
  const unit = { text: '', factor: 1, offset: 0, dimension: [0, 0, 0, 0, 0, 0, 0], angle: 0 } as const;
  return terms.filter(({ name }) => needed.has(name)).map(({ name, tree }) => ({ name, is: '', tree, unit }));
}

/** A value that is above 0 where the truth holds. */
function marginOf(program: EvolutionProgram, truth: Truth): Tree {
  switch (truth.kind) {
    case 'side': {
      const margin = program.trees.margins[truth.switch] ?? number(0);
      return truth.sign > 0 ? margin : negate(margin);
    }
    case 'and':
      return call('min', marginOf(program, truth.left), marginOf(program, truth.right));
    case 'or':
      return call('max', marginOf(program, truth.left), marginOf(program, truth.right));
    case 'not':
      return negate(marginOf(program, truth.operand));
  }
}

/** The tree with the sign of its switching function in place of each branch. */
function withoutBranches({ inputs, trees, switches }: EvolutionProgram, tree: Tree): Tree {
  let settled = tree;
  for (let index = switches.length - 1; index >= 0; index--) {
    const name = trees.names[inputs.branches + index];
    const margin = trees.margins[index];
    if (name !== undefined && margin !== undefined)
      settled = substitute(settled, new Map([[name, call('sign', margin)]]));
  }
  return settled;
}

/** The tree with the parts of parameters alone put back that a program computes once. */
function withoutHoisting({ inputs, trees }: EvolutionProgram, tree: Tree): Tree {
  let settled = tree;
  for (let index = trees.constants.length - 1; index >= 0; index--) {
    const name = trees.names[inputs.constants + index];
    const constant = trees.constants[index];
    if (name !== undefined && constant !== undefined)
      settled = substitute(settled, new Map([[name, constant]]));
  }
  return settled;
}

function quantitiesBehind({ quantities }: Lab, trees: readonly Tree[]): ReadonlySet<string> {
  const needed = new Set(trees.flatMap((tree) => [...namesIn(tree)]));
  for (const { name, expression } of [...quantities.derived].reverse())
    if (needed.has(name)) for (const below of namesIn(expression.tree)) needed.add(below);
  return needed;
}
