import type { EvolutionProgram } from '../model/index.ts';
import { factorMatrix, solveFactored } from './dense-solve.ts';
import { layOutStep } from './whole-step.ts';

/** How a dry friction acts: slipping against a direction, sticking, or switched off. */
export const slipsForward = 1;
export const slipsBackward = -1;
export const sticks = 0;
export const isOff = 2;
/** Holding a constant value: for one step of fixed length, or because others hold its velocity at zero already. */
export const holdsConstant = 3;

/** A rate below this share of what it would be if nothing held is rounding. */
export const heldShare = 1e-13;

/**
 * A program with the one vector that its code reads, and the present mode of every dry friction.
 *
 * 1. `inputs` holds parameters and constants from `loadParameters` on, for the whole motion; behind them the step that
 *    the explicit pair is taking.
 * 2. Time and state are written into `inputs` by whoever evaluates, before each evaluation.
 * 3. While a friction sticks, its holding share follows the state: `hold` must run between writing the state
 *    and reading anything that depends on it; `evaluateRates` does so.
 */
export interface Flow {
  readonly program: EvolutionProgram;
  readonly inputs: Float64Array;
  readonly stateCount: number;
  /** First index of the states in `inputs`. */
  readonly statesAt: number;
  /** Mode of each dry friction. */
  readonly modes: Int8Array;
  stickingCount: number;
  evaluations: number;
  /** The outputs of `program.friction`: rates of the velocities, their derivatives by the shares, limits. */
  readonly friction: Float64Array;
  readonly system: Float64Array;
  readonly right: Float64Array;
  readonly pivots: Int32Array;
  readonly chosen: Int32Array;
  /** Directions in which frictions are about to slip, while modes are being decided; else 0. */
  readonly slipsNext: Int8Array;
  readonly freeRates: Float64Array;
}

export function createFlow(program: EvolutionProgram): Flow {
  const q = program.frictions.length;
  const limitCount = program.frictions.reduce((count, { limits }) => count + limits.length, 0);
  return {
    program,
    inputs: new Float64Array(layOutStep(program).length),
    stateCount: program.stateNames.length,
    statesAt: program.inputs.states,
    modes: new Int8Array(q).fill(isOff),
    stickingCount: 0,
    evaluations: 0,
    friction: new Float64Array(q * (q + 1) + limitCount),
    system: new Float64Array(q * q),
    right: new Float64Array(q),
    pivots: new Int32Array(q),
    chosen: new Int32Array(q),
    slipsNext: new Int8Array(q),
    freeRates: new Float64Array(program.stateNames.length),
  };
}

/**
 * Sets the parameters, and computes the constants that follow from them.
 *
 * @param constants work space, at least `program.constantCount` long
 */
export function loadParameters(flow: Flow, p: Float64Array, constants: Float64Array): void {
  const { program, inputs } = flow;
  for (let i = 0; i < program.parameterCount; i++) inputs[program.inputs.parameters + i] = p[i];
  if (program.constants !== null) {
    program.constants(inputs, constants);
    for (let i = 0; i < program.constantCount; i++) inputs[program.inputs.constants + i] = constants[i];
  }
}

export function writeState(flow: Flow, t: number, y: Float64Array): void {
  const { inputs, statesAt, stateCount } = flow;
  inputs[flow.program.inputs.time] = t;
  for (let i = 0; i < stateCount; i++) inputs[statesAt + i] = y[i];
}

/** The rates at the time and state that stand in the inputs. */
export function evaluateRates(flow: Flow, rates: Float64Array): void {
  flow.evaluations++;
  if (flow.stickingCount > 0) evaluateHeldRates(flow, rates);
  else flow.program.rates(flow.inputs, rates);
}

/**
 * The rates while frictions stick, without what rounding leaves of those that are held at zero: it would be taken for
 * motion.
 */
function evaluateHeldRates(flow: Flow, rates: Float64Array): void {
  const { program, inputs, modes, freeRates } = flow;
  const { holdings } = program.inputs;
  const { frictions } = program;
  let holdsDifference = false;
  for (let i = 0; i < modes.length; i++) {
    if (modes[i] !== sticks) continue;
    holdsDifference ||= frictions[i].velocityState < 0;
    inputs[holdings + i] = 0;
  }
  if (holdsDifference) program.rates(inputs, freeRates);
  hold(flow);
  program.rates(inputs, rates);
  if (holdsDifference) {
    for (let k = 0; k < rates.length; k++) {
      if (Math.abs(rates[k]) <= heldShare * Math.abs(freeRates[k])) rates[k] = 0;
    }
  }
  for (let i = 0; i < modes.length; i++) {
    if (modes[i] === sticks && frictions[i].velocityState >= 0) rates[frictions[i].velocityState] = 0;
  }
}

/**
 * Sets the holding shares of all sticking frictions so that their velocities do not change.
 *
 * @returns false where no values do that: a friction that has no influence on its own velocity
 */
export function hold(flow: Flow): boolean {
  return holdAgainst(flow, null, 1);
}

/**
 * As `hold`, but such that the velocities reach 0 within `stepS`: the velocity changes by minus itself.
 *
 * @param velocities one a friction, or null for velocities that are 0
 */
export function holdAgainst(flow: Flow, velocities: Float64Array | null, stepS: number): boolean {
  const { program, inputs, modes, friction, system, right, pivots, chosen } = flow;
  const q = modes.length;
  if (program.friction === null) return true;
  program.friction(inputs, friction);
  const { holdings } = program.inputs;
  let count = 0;
  for (let i = 0; i < q; i++) if (modes[i] === sticks) chosen[count++] = i;
  for (let r = 0; r < count; r++) {
    const i = chosen[r];
    right[r] = -friction[i] - (velocities === null ? 0 : velocities[i] / stepS);
    for (let k = 0; k < q; k++) {
      if (modes[k] === holdsConstant) right[r] -= friction[q + i * q + k] * inputs[holdings + k];
    }
    for (let k = 0; k < count; k++) system[r * count + k] = friction[q + i * q + chosen[k]];
  }
  if (count === 1) {
    inputs[holdings + chosen[0]] = right[0] / system[0];
    return system[0] !== 0 && Number.isFinite(inputs[holdings + chosen[0]]);
  }
  const solved = factorMatrix(system, count, pivots);
  if (solved) solveFactored(system, count, pivots, right);
  for (let r = 0; r < count; r++) inputs[holdings + chosen[r]] = solved ? right[r] : Number.NaN;
  return solved;
}

/** Puts a friction into a mode, in the list of modes and in the inputs. */
export function setMode(flow: Flow, index: number, mode: number): void {
  const { modes, inputs } = flow;
  const layout = flow.program.inputs;
  if (modes[index] === sticks) flow.stickingCount--;
  modes[index] = mode;
  if (mode === sticks) flow.stickingCount++;
  inputs[layout.slips + index] = mode === slipsForward || mode === slipsBackward ? mode : 0;
  if (mode !== holdsConstant && mode !== sticks) inputs[layout.holdings + index] = 0;
}
