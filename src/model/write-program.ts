import {
  compileFunction,
  differentiate,
  ExpressionTooLarge,
  namesIn,
  simplify,
  type Table,
  type Tree,
  totalTimeDerivative,
} from '../expression/index.ts';
import { type FrictionEquations, switchingFactor } from './friction-equations.ts';
import { hoistConstants } from './hoist-constants.ts';
import type {
  Condition,
  DryFriction,
  Evaluate,
  EvolutionProgram,
  InputLayout,
  Jump,
  Switch,
} from './program.ts';
import {
  branchName,
  constantName,
  frictionWithVelocity,
  holdingName,
  type SwitchList,
  slipName,
} from './switch-list.ts';

/** The parts of a model from which its program is written; branches are taken out of rates and signals. */
export interface ProgramParts {
  readonly parameterNames: readonly string[];
  readonly stateNames: readonly string[];
  readonly stateUnits: readonly string[];
  readonly starts: readonly Tree[];
  readonly lasts: Tree | undefined;
  readonly rates: ReadonlyMap<string, Tree>;
  readonly signals: readonly Tree[];
  readonly stops: readonly Condition[];
  readonly holdsWhile: readonly Condition[];
  readonly jumps: readonly Omit<Jump, 'values'>[];
  readonly list: SwitchList;
  readonly friction: FrictionEquations;
  readonly tables: ReadonlyMap<string, Table>;
  readonly timeName: string;
}

/** Writes the program: shares constants, sorts what steers what, compiles. */
export function writeProgram(parts: ProgramParts): EvolutionProgram {
  const { parameterNames, stateNames, rates, list, friction, tables, timeName } = parts;
  const parameters = new Set(parameterNames);
  const rateTrees = stateNames.map((name) => rates.get(name)).filter((tree) => tree !== undefined);
  const margins = list.switches.map(({ margin }) => margin);
  const velocities = list.frictions.map(({ velocity }) => velocity);
  const slope = (tree: Tree): Tree => simplify(totalTimeDerivative(tree, rates));
  const watched = [...margins, ...margins.map(slope), ...velocities, ...velocities.map(slope)];
  const equations = [...friction.free, ...friction.influence, ...friction.limits];
  const factors = list.frictions.map((found) => switchingFactor(found, parameters));
  const wanted = factors.filter((factor) => factor !== undefined);
  const hoisted = hoistConstants(
    [...rateTrees, ...watched, ...equations, ...parts.signals].map(simplify),
    parameters,
    wanted,
  );
  const cut = cutter(hoisted.trees);
  const fastRates = cut(rateTrees.length);
  const fastWatched = cut(watched.length);
  const fastEquations = cut(equations.length);
  const fastSignals = cut(parts.signals.length);

  const m = list.switches.length;
  const q = list.frictions.length;
  const inputs = layOut(stateNames.length, parameterNames.length, hoisted.constants.length, m, q);
  const names = [
    timeName,
    ...stateNames,
    ...parameterNames,
    ...hoisted.constants.map((_, index) => constantName(index)),
    ...list.switches.map((_, index) => branchName(index)),
    ...list.frictions.map((_, index) => slipName(index)),
    ...list.frictions.map((_, index) => holdingName(index)),
  ];
  const compile = (trees: readonly Tree[]): Evaluate => compileFunction(trees, names, { tables });
  const compileSome = (trees: readonly Tree[]): Evaluate | null =>
    trees.length === 0 ? null : compile(trees);
  const looksAtTime = (trees: readonly Tree[]): boolean => trees.some((tree) => namesIn(tree).has(timeName));
  // Jumps that the time brings about drive the model even where its rates are quiet.
  const jumpsByTime = parts.jumps.length > 0 && looksAtTime(margins);
  const isDriven = jumpsByTime || looksAtTime([...rateTrees, ...equations]);
  const compileJacobian = (): Evaluate | null =>
    unlessTooLarge(() =>
      compile(fastRates.flatMap((rate) => stateNames.map((name) => simplify(differentiate(rate, name))))),
    );
  let jacobian: Evaluate | null | undefined;
  return {
    inputs,
    stateNames,
    stateUnits: parts.stateUnits,
    parameterCount: parameterNames.length,
    constantCount: hoisted.constants.length,
    switches: describeSwitches(parts, rateTrees),
    frictions: describeFrictions(parts, factors, inputs),
    stops: parts.stops,
    holdsWhile: parts.holdsWhile,
    jumps: parts.jumps.map((jump) => ({ ...jump, values: compile(jump.trees) })),
    autonomous: !isDriven && !looksAtTime(margins),
    isDriven,
    placeStates: findPlaces(stateNames, rates, parameters),
    constants: compileSome(hoisted.constants),
    start: compile(parts.starts),
    lasts: parts.lasts === undefined ? null : compile([parts.lasts]),
    rates: compile(fastRates),
    jacobian: () => {
      if (jacobian === undefined) jacobian = compileJacobian();
      return jacobian;
    },
    watch: compileSome(fastWatched),
    friction: compileSome(fastEquations),
    signals: fastSignals.map((tree) => compile([tree])),
    trees: {
      names,
      tables,
      constants: hoisted.constants,
      starts: parts.starts,
      lasts: parts.lasts ?? null,
      rates: fastRates,
      margins: fastWatched.slice(0, m),
      marginSlopes: fastWatched.slice(m, 2 * m),
      velocities: fastWatched.slice(2 * m, 2 * m + q),
      velocitySlopes: fastWatched.slice(2 * m + q),
      freeRates: fastEquations.slice(0, q),
      influences: fastEquations.slice(q, q + q * q),
      limits: fastEquations.slice(q + q * q),
      signals: fastSignals,
    },
  };
}

function unlessTooLarge<T>(make: () => T): T | null {
  try {
    return make();
  } catch (error) {
    if (error instanceof ExpressionTooLarge) return null;
    throw error;
  }
}

function cutter(trees: readonly Tree[]): (count: number) => readonly Tree[] {
  let at = 0;
  return (count) => {
    at += count;
    return trees.slice(at - count, at);
  };
}

function layOut(n: number, parameterCount: number, constantCount: number, m: number, q: number): InputLayout {
  const parameters = 1 + n;
  const constants = parameters + parameterCount;
  const branches = constants + constantCount;
  const slips = branches + m;
  const holdings = slips + q;
  return { time: 0, states: 1, parameters, constants, branches, slips, holdings, length: holdings + q };
}

function describeSwitches(parts: ProgramParts, rateTrees: readonly Tree[]): readonly Switch[] {
  const { list } = parts;
  const steering = (roots: readonly Tree[]): ReadonlySet<string> => {
    const found = new Set(roots.flatMap((root) => [...namesIn(root)]));
    // A switching function stands after those whose branches it holds, so one pass from the end finds them all.
    for (let index = list.switches.length - 1; index >= 0; index--) {
      if (!found.has(branchName(index))) continue;
      for (const name of namesIn(list.switches[index].margin)) found.add(name);
    }
    return found;
  };
  const frictionTrees = list.frictions.flatMap(({ limits, velocity }) => [
    velocity,
    ...limits.map(({ limit }) => limit),
  ]);
  const forRates = steering([...rateTrees, ...frictionTrees]);
  const forSignals = steering(parts.signals);
  return list.switches.map(({ text, place, margin }, index) => {
    const tie = frictionWithVelocity(list, margin);
    return {
      text,
      place,
      steersRates: forRates.has(branchName(index)),
      steersSignals: forSignals.has(branchName(index)),
      friction: tie?.index ?? -1,
      frictionSign: tie?.sign ?? 1,
    };
  });
}

function describeFrictions(
  parts: ProgramParts,
  factors: readonly (Tree | undefined)[],
  inputs: InputLayout,
): readonly DryFriction[] {
  let next = inputs.constants;
  return parts.list.frictions.map(({ limits, velocity }, index) => ({
    limits: limits.map(({ text, place }) => ({ text, place })),
    velocityState: velocity.kind === 'name' ? parts.stateNames.indexOf(velocity.name) : -1,
    factor: factors[index] === undefined ? -1 : next++,
  }));
}

/**
 * Which states are places: their rate is another state, alone or times and over parameters, which is no place itself.
 *
 * Of an oscillator (x′ = v, v′ = −ω²x) x is the place, since its rate is v alone.
 */
function findPlaces(
  stateNames: readonly string[],
  rates: ReadonlyMap<string, Tree>,
  parameters: ReadonlySet<string>,
): readonly boolean[] {
  const velocities = new Map<string, string>();
  const claim = (name: string, velocity: string | undefined): void => {
    if (velocity === undefined || velocity === name || !stateNames.includes(velocity)) return;
    if (!velocities.has(name) && !velocities.has(velocity)) velocities.set(name, velocity);
  };
  for (const name of stateNames) {
    const rate = rates.get(name);
    if (rate?.kind === 'name') claim(name, rate.name);
  }
  for (const name of stateNames) claim(name, factorState(rates.get(name), parameters));
  return stateNames.map((name) => velocities.has(name));
}

/** The name that a rate is in proportion to, if everything else in it is parameters. */
function factorState(rate: Tree | undefined, parameters: ReadonlySet<string>): string | undefined {
  if (rate === undefined) return undefined;
  if (rate.kind === 'name') return rate.name;
  if (rate.kind === 'negate') return factorState(rate.operand, parameters);
  if (rate.kind !== 'arithmetic' || (rate.operator !== '*' && rate.operator !== '/')) return undefined;
  const isFixed = (tree: Tree): boolean => [...namesIn(tree)].every((found) => parameters.has(found));
  if (isFixed(rate.right)) return factorState(rate.left, parameters);
  return rate.operator === '*' && isFixed(rate.left) ? factorState(rate.right, parameters) : undefined;
}
