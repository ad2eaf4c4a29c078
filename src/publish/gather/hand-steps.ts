import { classroomSteps } from '../../evolve/index.ts';
import { number, simplify, substitute, type Tree } from '../../expression/index.ts';
import type { Pipeline } from '../../lab/index.ts';
import type { Dimension } from '../../quantity/index.ts';
import { settingsOff } from '../../run/index.ts';

/** One state of the step loop: how fast it changes in the ideal picture, and whether it is a place. */
export interface HandState {
  readonly name: string;
  readonly dimension: Dimension;
  readonly rate: Tree;
  /** Places are stepped last, with the new speeds. */
  readonly isPlace: boolean;
}

/** The step loop as a class does it by hand: the ideal motion, in a dozen steps or less. SI. */
export interface HandSteps {
  readonly stepS: number;
  readonly states: readonly HandState[];
  /** One row a step, the start first. */
  readonly rows: readonly { readonly t: number; readonly values: readonly number[] }[];
}

/** A class does about this many steps by hand (common practice, no source). */
const STEPS = 8;

/** Rows beyond this number are left to the machine. */
const MOST_ROWS = 12;

/**
 * The ideal motion in a few steps of equal length, speeds first and then places with the new speeds.
 *
 * @returns null for a model without time, and where the ideal motion cannot be stepped
 */
export function stepByHand(pipeline: Pipeline): HandSteps | null {
  const { lab } = pipeline;
  if (lab.model.kind !== 'motion') return null;
  const { model } = lab.model;
  const values = pipeline.values(pipeline.nominal, settingsOff(lab, 0));
  const exact = pipeline.simulate(values);
  if (!exact.ok || exact.value.motion === null) return null;
  const stepS = roundDown((exact.value.motion.endS - exact.value.motion.startS) / STEPS);
  const stepped = classroomSteps(model, values, { stepper: 'semi-implicit-euler', stepS });
  if (!stepped.ok) return null;
  const motion = stepped.value;
  const state = new Float64Array(model.stateNames.length);
  const count = Math.min(MOST_ROWS, Math.floor((motion.endS - motion.startS) / stepS + 1e-9));
  const rows = Array.from({ length: count + 1 }, (_, index) => {
    const t = motion.startS + index * stepS;
    motion.stateAt(Math.min(t, motion.endS), state);
    return { t, values: [...state] };
  });
  return {
    stepS,
    rows,
    states: model.stateNames.map((name, index) => ({
      name,
      dimension: model.dimensionOfState(name),
      rate: idealRate(pipeline, model.rates.get(name) ?? number(0)),
      isPlace: model.program.placeStates[index] ?? false,
    })),
  };
}

/** A rate of change with all effects switched off and what is nothing left out. */
function idealRate({ lab }: Pipeline, rate: Tree): Tree {
  const off = new Map(settingsOff(lab, 0).map(({ quantity, value }) => [quantity.name, number(value)]));
  return simplify(substitute(rate, off));
}

/** The next of 1, 2, 5 times a power of ten that is not above the number. */
function roundDown(value: number): number {
  const decade = 10 ** Math.floor(Math.log10(value));
  const rung = [5, 2, 1].find((candidate) => candidate * decade <= value * (1 + 1e-9)) ?? 1;
  return Number((rung * decade).toPrecision(1));
}
