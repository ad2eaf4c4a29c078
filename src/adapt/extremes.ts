import type { Motion } from '../evolve/index.ts';
import { namesIn } from '../expression/index.ts';
import type { Pipeline, QuantityValues, Setting } from '../lab/index.ts';
import { type Dimension, sameDimension } from '../quantity/index.ts';
import { allEffects, settingsOff } from '../run/index.ts';

/** The largest that a lab's masses, speeds and stores of energy come to, over its plan, kits and stations; SI. */
export interface Extremes {
  /** Of all that can move, kg. */
  readonly mass: number;
  /** The longest length that the lab names, m: nothing falls or swings farther. */
  readonly length: number;
  /** Of anything that the model follows, m/s; free ends can be faster. */
  readonly speed: number;
  /** Of motion, at most: the lesser of m·v²/2 and of falling through the longest length, J. */
  readonly movingEnergy: number;
  /** In springs, J. */
  readonly elasticEnergy: number;
  /** In capacitors, J. */
  readonly electricEnergy: number;
  /** V, A and K (absolute) of the largest that the lab names. */
  readonly voltage: number;
  readonly current: number;
  readonly temperature: number;
}

/** m, kg, s, A, K, mol, cd. */
const LENGTH: Dimension = [1, 0, 0, 0, 0, 0, 0];
const MASS: Dimension = [0, 1, 0, 0, 0, 0, 0];
const MASS_PER_LENGTH: Dimension = [-1, 1, 0, 0, 0, 0, 0];
const SPEED: Dimension = [1, 0, -1, 0, 0, 0, 0];
const ANGULAR_SPEED: Dimension = [0, 0, -1, 0, 0, 0, 0];
const ACCELERATION: Dimension = [1, 0, -2, 0, 0, 0, 0];
const STIFFNESS: Dimension = [0, 1, -2, 0, 0, 0, 0];
const CAPACITANCE: Dimension = [-2, -1, 4, 2, 0, 0, 0];
const VOLTAGE: Dimension = [2, 1, -3, -1, 0, 0, 0];
const CURRENT: Dimension = [0, 0, 0, 1, 0, 0, 0];
const TEMPERATURE: Dimension = [0, 0, 0, 0, 1, 0, 0];

/** Gravity where the lab names none: standard acceleration of free fall, m/s² (SI Brochure, exact by convention). */
const STANDARD_GRAVITY = 9.80665;

/** Places at which a motion is looked at: speeds change slowly between them. */
const PLACES = 400;

/**
 * The extremes over all settings that the lab asks for or offers, with all effects and with none.
 *
 * Energies and speeds are limits from above, made for cautions: all masses together, at the highest speed of any part.
 */
export function findExtremes(pipeline: Pipeline, variants: readonly (readonly Setting[])[]): Extremes {
  let extremes: Extremes = NOTHING;
  const { lab } = pipeline;
  for (const settings of [[], ...variants]) {
    for (const subset of [0, allEffects(lab)]) {
      const values = pipeline.values(pipeline.nominal, settings, settingsOff(lab, subset));
      extremes = larger(extremes, extremesAt(pipeline, values));
    }
  }
  return extremes;
}

const NOTHING: Extremes = {
  mass: 0,
  length: 0,
  speed: 0,
  movingEnergy: 0,
  elasticEnergy: 0,
  electricEnergy: 0,
  voltage: 0,
  current: 0,
  temperature: 0,
};

function larger(a: Extremes, b: Extremes): Extremes {
  return {
    mass: Math.max(a.mass, b.mass),
    length: Math.max(a.length, b.length),
    speed: Math.max(a.speed, b.speed),
    movingEnergy: Math.max(a.movingEnergy, b.movingEnergy),
    elasticEnergy: Math.max(a.elasticEnergy, b.elasticEnergy),
    electricEnergy: Math.max(a.electricEnergy, b.electricEnergy),
    voltage: Math.max(a.voltage, b.voltage),
    current: Math.max(a.current, b.current),
    temperature: Math.max(a.temperature, b.temperature),
  };
}

/**
 * The extremes under given values of all quantities.
 *
 * @param simulated the motion that the values give, where the caller has it; it is found here otherwise
 */
export function extremesAt(
  pipeline: Pipeline,
  values: QuantityValues,
  simulated: Motion | null = null,
): Extremes {
  const { lab } = pipeline;
  const largest = (dimension: Dimension): number =>
    Math.max(
      0,
      ...lab.quantities.all
        .filter((quantity) => sameDimension(quantity.dimension, dimension))
        .map(({ index }) => Math.abs(values[index])),
    );
  const length = largest(LENGTH);
  const mass = totalMass(pipeline, values, length);
  const motion = largestInMotion(pipeline, values, simulated);
  const gravity = largest(ACCELERATION);
  const stiffness = largest(STIFFNESS);
  const capacitance = largest(CAPACITANCE);
  const voltage = Math.max(largest(VOLTAGE), motion.voltage);
  const tracked = Math.max(motion.speed, motion.angularSpeed * length);
  // Where gravity alone drives, nothing is faster than what falls freely through the longest length.
  const isDrivenByGravity = gravity > 0 && stiffness === 0 && voltage === 0;
  const speed =
    isDrivenByGravity && length > 0 ? Math.min(tracked, Math.sqrt(2 * gravity * length)) : tracked;
  const falling = mass * (gravity || STANDARD_GRAVITY) * length;
  const moving = 0.5 * mass * speed ** 2;
  return {
    mass,
    length,
    speed,
    movingEnergy: speed > 0 ? (isDrivenByGravity ? Math.min(falling, moving) : moving) : 0,
    elasticEnergy: 0.5 * stiffness * (motion.length || length) ** 2,
    electricEnergy: 0.5 * capacitance * voltage ** 2,
    voltage,
    current: largest(CURRENT),
    temperature: Math.max(largest(TEMPERATURE), motion.temperature),
  };
}

/** All masses that the lab names, each once: a computed one that is made of others is left out. */
function totalMass({ lab }: Pipeline, values: QuantityValues, length: number): number {
  const masses = lab.quantities.all.filter(({ dimension }) => sameDimension(dimension, MASS));
  const names = new Set(masses.map(({ name }) => name));
  const own = masses.filter(
    (mass) => mass.kind === 'base' || ![...namesIn(mass.expression.tree)].some((name) => names.has(name)),
  );
  const sum = own.reduce((total, { index }) => total + Math.abs(values[index]), 0);
  if (own.some((mass) => mass.kind === 'derived')) return sum;
  const perLength = lab.quantities.all
    .filter(({ dimension }) => sameDimension(dimension, MASS_PER_LENGTH))
    .map(({ index }) => Math.abs(values[index]));
  // A lab of chains and ropes names their mass per length; resistances over speed squared have that dimension too,
  // and are small beside it.
  return sum + Math.max(0, ...perLength) * length;
}

interface LargestInMotion {
  speed: number;
  angularSpeed: number;
  length: number;
  voltage: number;
  temperature: number;
}

function largestInMotion(
  pipeline: Pipeline,
  values: QuantityValues,
  simulated: Motion | null,
): LargestInMotion {
  const found: LargestInMotion = { speed: 0, angularSpeed: 0, length: 0, voltage: 0, temperature: 0 };
  const { model } = pipeline.lab;
  if (model.kind !== 'motion') return found;
  const motion = simulated ?? motionAt(pipeline, values);
  if (motion === null) return found;
  const { stateNames } = model.model;
  const dimensions = stateNames.map((name) => model.model.dimensionOfState(name));
  const kinds: readonly (readonly [keyof LargestInMotion, Dimension])[] = [
    ['speed', SPEED],
    ['angularSpeed', ANGULAR_SPEED],
    ['length', LENGTH],
    ['voltage', VOLTAGE],
    ['temperature', TEMPERATURE],
  ];
  eachState(motion, stateNames.length, (state) => {
    dimensions.forEach((dimension, index) => {
      for (const [kind, wanted] of kinds) {
        if (sameDimension(dimension, wanted)) found[kind] = Math.max(found[kind], Math.abs(state[index]));
      }
    });
  });
  return found;
}

function motionAt(pipeline: Pipeline, values: QuantityValues): Motion | null {
  const simulated = pipeline.simulate(values);
  return simulated.ok ? simulated.value.motion : null;
}

function eachState(motion: Motion, count: number, look: (state: Float64Array) => void): void {
  const state = new Float64Array(count);
  for (let place = 0; place <= PLACES; place++) {
    motion.stateAt(motion.startS + ((motion.endS - motion.startS) * place) / PLACES, state);
    look(state);
  }
}
