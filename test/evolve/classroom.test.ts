import { describe, expect, it } from 'vitest';
import { classroomSteps, evolve, type Motion, type Stepper } from '../../src/evolve/index.ts';
import published from '../published/mechanics-closed-forms.json' with { type: 'json' };
import { type ModelTexts, modelOf, problemsOf, unwrap, valuesOf } from './model-from-texts.ts';

const swing: ModelTexts = {
  parameters: { g: [9.81, 'm/s^2'], l: [1, 'm'], damping: [0.3, '1/s'], start: [1, 'rad'] },
  states: { theta: ['start', 'omega'], omega: ['0 rad/s', '-g/l*sin(theta) - damping*omega'] },
  lasts: '2 s',
  signals: { theta: 'theta' },
};

const orders: readonly (readonly [Stepper, number])[] = [
  ['forward-euler', 1],
  ['semi-implicit-euler', 1],
  ['midpoint', 2],
  ['fourth-order', 4],
];

describe('the steppers of the classroom', () => {
  const model = modelOf(swing);
  const p = valuesOf(swing);
  const exact = unwrap(evolve(model, p, { relativeTolerance: 1e-13 })).signalAt(0, 2);
  const errorOf = (stepper: Stepper, stepS: number): number =>
    Math.abs(unwrap(classroomSteps(model, p, { stepper, stepS })).signalAt(0, 2) - exact);

  it.each(orders)('%s has the order %d within 0.2', (stepper, order) => {
    const coarse = errorOf(stepper, 0.01);
    const fine = errorOf(stepper, 0.0025);
    expect(Math.abs(Math.log2(coarse / fine) / 2 - order)).toBeLessThan(0.2);
  });

  it('forward Euler takes the steps that a spreadsheet takes (three by hand)', () => {
    const motion = unwrap(classroomSteps(model, p, { stepper: 'forward-euler', stepS: 0.1 }));
    let [theta, omega] = [1, 0];
    const state = new Float64Array(2);
    for (let i = 1; i <= 3; i++) {
      [theta, omega] = [theta + 0.1 * omega, omega + 0.1 * (-9.81 * Math.sin(theta) - 0.3 * omega)];
      motion.stateAt(0.1 * i, state);
      expect(state[0]).toBeCloseTo(theta, 13);
      expect(state[1]).toBeCloseTo(omega, 13);
    }
  });

  it('semi-implicit Euler takes the new speed for the new place', () => {
    const motion = unwrap(classroomSteps(model, p, { stepper: 'semi-implicit-euler', stepS: 0.1 }));
    const state = new Float64Array(2);
    motion.stateAt(0.1, state);
    const omega = 0.1 * -9.81 * Math.sin(1);
    expect(state[1]).toBeCloseTo(omega, 14);
    expect(state[0]).toBeCloseTo(1 + 0.1 * omega, 14);
  });

  it('semi-implicit Euler keeps the energy of a swing in bounds where forward Euler lets it grow', () => {
    const energyAfter = (stepper: Stepper): number => {
      const texts: ModelTexts = {
        parameters: { w: [1, 'rad/s'] },
        states: { x: ['1 m', 'v'], v: ['0 m/s', '-w^2*x'] },
        lasts: '100 s',
        signals: { energy: '(v^2 + w^2*x^2)/2' },
      };
      return unwrap(classroomSteps(modelOf(texts), valuesOf(texts), { stepper, stepS: 0.05 })).signalAt(
        0,
        100,
      );
    };
    expect(Math.abs(energyAfter('semi-implicit-euler') - 0.5)).toBeLessThan(0.02);
    expect(energyAfter('forward-euler')).toBeCloseTo(0.5 * 1.0025 ** 2000, 9);
  });

  it('draws straight lines between steps, and shortens the last step to the end', () => {
    const motion = unwrap(classroomSteps(model, p, { stepper: 'midpoint', stepS: 0.3 }));
    expect(motion.endS).toBe(2);
    expect(motion.steps.accepted).toBe(7);
    const at = (t: number): number => motion.signalAt(0, t);
    expect(at(0.45)).toBeCloseTo((at(0.3) + at(0.6)) / 2, 14);
    expect(at(1.9)).toBeCloseTo((at(1.8) + at(2)) / 2, 13);
  });

  it.each(orders)('%s places a stop by a straight line inside the step', (stepper, order) => {
    const { lasts: _, ...open } = swing;
    const stops = modelOf({ ...open, stops: { through: 'theta < 0' } });
    const precise = unwrap(evolve(stops, p, { relativeTolerance: 1e-12 })).endS;
    const motion = unwrap(classroomSteps(stops, p, { stepper, stepS: 0.001 }));
    expect(motion.stop).toBe('through');
    expect(Math.abs(motion.endS - precise)).toBeLessThan(order === 1 ? 2e-3 : 2e-6);
    expect(motion.signalAt(0, motion.endS)).toBeCloseTo(0, 6);
  });
});

describe('dry friction in equal steps', () => {
  const { parameters: p, values } = published.items['oscillator-coulomb'];
  const texts: ModelTexts = {
    parameters: { k: [p.k, 'N/m'], m: [p.m, 'kg'], F: [p.mu * p.m * p.g, 'N'], x_0: [p.x0, 'm'] },
    states: { x: ['x_0', 'v'], v: ['0 m/s', '(-k*x - dry(F, v))/m'] },
    lasts: '3 s',
    signals: { friction: 'dry(F, v)' },
    holdsWhile: { 'on its first way': 'v <= 0 m/s' },
  };
  const model = modelOf(texts);
  const endOf = (motion: Motion): Float64Array => {
    const out = new Float64Array(2);
    motion.stateAt(3, out);
    return out;
  };

  it.each(orders)('%s brings the block to rest near its place of rest, and leaves it there', (stepper) => {
    const motion = unwrap(classroomSteps(model, valuesOf(texts), { stepper, stepS: 0.001 }));
    const [x, v] = endOf(motion);
    expect(v).toBe(0);
    expect(Math.abs(x - values.restPosition)).toBeLessThan(stepper === 'forward-euler' ? 1e-3 : 1e-5);
    expect(motion.signalAt(0, 2.9)).toBeCloseTo(-p.k * x, 12);
    expect(motion.holds[0].failsAt?.t).toBeCloseTo(values.halfPeriod, 2);
  });

  it('a block held by friction does not creep', () => {
    const motion = unwrap(
      classroomSteps(model, valuesOf(texts, { x_0: 0.007 }), { stepper: 'forward-euler', stepS: 0.01 }),
    );
    expect([...endOf(motion)]).toEqual([0.007, 0]);
  });
});

describe('equal steps that lead nowhere', () => {
  it('tell of a stop that never comes, of too many steps and of interruption', () => {
    const { lasts: _, ...open } = swing;
    const never = modelOf({ ...open, stops: { never: 'theta > 2' } });
    const told = (options: object): string =>
      problemsOf(classroomSteps(never, valuesOf(swing), { stepper: 'midpoint', stepS: 0.01, ...options }))[0];
    expect(told({ maxTimeS: 1 })).toContain('the stop "never" has not come');
    expect(told({ maxSteps: 10 })).toContain('given up after 10 steps');
    expect(told({ signal: { aborted: true } })).toContain('interrupted');
  });

  it('tell where the numbers run away', () => {
    const texts: ModelTexts = {
      parameters: { T: [1, 's'] },
      states: { x: ['1', '-1000*x*x*x/T'] },
      lasts: '10 s',
    };
    expect(
      problemsOf(
        classroomSteps(modelOf(texts), valuesOf(texts), { stepper: 'forward-euler', stepS: 0.1 }),
      )[0],
    ).toContain('has no finite continuation after t = ');
  });

  it('a step that is not positive is a mistake of the caller', () => {
    expect(() => classroomSteps(modelOf(swing), valuesOf(swing), { stepper: 'midpoint', stepS: 0 })).toThrow(
      RangeError,
    );
  });
});
