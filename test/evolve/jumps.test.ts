import { describe, expect, test } from 'vitest';
import { createBatchEngine } from '../../src/engine/index.ts';
import { classroomSteps, evolve } from '../../src/evolve/index.ts';
import { buildModel } from '../../src/model/index.ts';
import { type ModelTexts, modelOf, problemsOf, sourceOf, unwrap, valuesOf } from './model-from-texts.ts';

/** A ball that falls from h and bounces with the coefficient of restitution e, on a floor at x_f. */
const ball: ModelTexts = {
  parameters: { g: [9.81, 'm/s^2'], h: [1.3, 'm'], e: [0.8, ''], x_f: [0, 'm'] },
  states: { x: ['x_f + h', 'v'], v: ['0 m/s', '-g'] },
  jumps: { 'the ball meets the floor': { when: 'x < x_f', sets: { v: '-e*v' } } },
  lasts: '4 s',
  signals: { x: 'x', v: 'v' },
};

const fallS = (h: number, g = 9.81): number => Math.sqrt((2 * h) / g);

/** Closed form: the k-th bounce comes at t1·(1 + 2(e + e² + … + e^k)), k = 0, 1, … */
function bounceTimes(count: number, e: number, t1: number): number[] {
  return Array.from({ length: count }, (_, k) => t1 * (1 + (2 * e * (1 - e ** k)) / (1 - e)));
}

describe('a ball that bounces', () => {
  test.each([0, 1, -2.5])('bounces at the times of the closed form, to 1e-10 (floor at %f m)', (floor) => {
    const motion = unwrap(evolve(modelOf(ball), valuesOf(ball, { x_f: floor })));
    const expected = bounceTimes(12, 0.8, fallS(1.3)).filter((t) => t < 4);
    expect(motion.breaks.length).toBeGreaterThanOrEqual(expected.length);
    for (const [k, t] of expected.entries())
      expect(Math.abs((motion.breaks[k] ?? 0) - t)).toBeLessThan(1e-10);
  });

  test('keeps both sides of a jump', () => {
    const motion = unwrap(evolve(modelOf(ball), valuesOf(ball)));
    const impact = 9.81 * fallS(1.3);
    const [first = Number.NaN] = motion.breaks;
    expect(motion.signalBefore(1, first)).toBeCloseTo(-impact, 9);
    expect(motion.signalAt(1, first)).toBeCloseTo(0.8 * impact, 9);
    expect(motion.signalAt(0, first)).toBeCloseTo(0, 12);
  });

  test('loses no energy where e = 1, over 60 bounces', () => {
    const texts = { ...ball, lasts: '60 s' };
    const motion = unwrap(evolve(modelOf(texts), valuesOf(texts, { e: 1 })));
    const t1 = fallS(1.3);
    expect(motion.ended).toBe('in time');
    expect(motion.breaks.length).toBe(Math.floor((60 / t1 + 1) / 2));
    for (const [k, t] of motion.breaks.entries()) expect(Math.abs(t - t1 * (2 * k + 1))).toBeLessThan(1e-10);
  });

  test.each([
    [0.5, 0],
    [0.9, 0],
    [0.97, 0],
    [0.5, 1],
    [0.9, 1],
    [0.9, 1000],
  ])('ends where its bounces pile up (e = %f, floor at %f m)', (e, floor) => {
    const texts = { ...ball, lasts: '100 s' };
    const outcome = evolve(modelOf(texts), valuesOf(texts, { e, x_f: floor }));
    const motion = unwrap(outcome);
    const end = (fallS(1.3) * (1 + e)) / (1 - e);
    expect(motion.ended).toBe('where jumps pile up');
    expect(Math.abs(motion.endS - end) / end).toBeLessThan(floor === 0 ? 1e-7 : 1e-6);
    expect(outcome.ok && outcome.warnings.map(({ code }) => code)).toEqual(['jumps-pile-up']);
  });

  test('that does not bounce at all ends on the floor, with a word', () => {
    const outcome = evolve(modelOf(ball), valuesOf(ball, { e: 0 }));
    expect(unwrap(outcome).ended).toBe('where jumps pile up');
    expect(Math.abs(unwrap(outcome).endS - fallS(1.3))).toBeLessThan(1e-12);
    expect(outcome.ok && outcome.warnings.map(({ code }) => code)).toEqual(['jump-stays']);
  });

  test('in air bounces where energy and a finer tolerance put it', () => {
    const texts: ModelTexts = {
      ...ball,
      parameters: { ...ball.parameters, k: [0.05, '1/m'] },
      states: { x: ['x_f + h', 'v'], v: ['0 m/s', '-g - k*v*abs(v)'] },
      lasts: '2 s',
    };
    const motion = unwrap(evolve(modelOf(texts), valuesOf(texts), { relativeTolerance: 1e-12 }));
    // Quadratic drag from rest: x = ln(cosh(√(g k) t))/k, so the floor comes at acosh(exp(k h))/√(g k).
    const first = Math.acosh(Math.exp(0.05 * 1.3)) / Math.sqrt(9.81 * 0.05);
    expect(Math.abs((motion.breaks[0] ?? 0) - first)).toBeLessThan(1e-10);
    // Upwards with drag: v = √(g/k) tan(θ0 − √(g k) t); the turning is a break of abs(v).
    const down = Math.sqrt(9.81 / 0.05) * Math.tanh(Math.sqrt(9.81 * 0.05) * first);
    const up = Math.atan((0.8 * down) / Math.sqrt(9.81 / 0.05)) / Math.sqrt(9.81 * 0.05);
    expect(Math.abs((motion.breaks[1] ?? 0) - first - up)).toBeLessThan(1e-10);
  });
});

test('balls that meet exchange their speeds', () => {
  const texts: ModelTexts = {
    parameters: { m_1: [0.2, 'kg'], m_2: [0.5, 'kg'] },
    states: {
      a: ['0 m', 'u'],
      b: ['1 m', 'w'],
      u: ['2 m/s', '0 m/s^2'],
      w: ['-1 m/s', '0 m/s^2'],
    },
    jumps: {
      'the balls meet': {
        when: 'a > b and u > w',
        sets: { u: '((m_1 - m_2)*u + 2*m_2*w)/(m_1 + m_2)', w: '((m_2 - m_1)*w + 2*m_1*u)/(m_1 + m_2)' },
      },
    },
    lasts: '1 s',
  };
  const motion = unwrap(evolve(modelOf(texts), valuesOf(texts)));
  const state = new Float64Array(4);
  motion.stateAt(1, state);
  const u = ((0.2 - 0.5) * 2 + 2 * 0.5 * -1) / 0.7;
  const w = ((0.5 - 0.2) * -1 + 2 * 0.2 * 2) / 0.7;
  expect([...motion.breaks]).toHaveLength(1);
  expect(motion.breaks[0]).toBeCloseTo(1 / 3, 13);
  expect(state[2]).toBeCloseTo(u, 12);
  expect(state[3]).toBeCloseTo(w, 12);
  expect(state[0]).toBeCloseTo(2 / 3 + (u * 2) / 3, 12);
});

test('a kick comes at its time and only once, its condition staying true', () => {
  const texts: ModelTexts = {
    parameters: { v_k: [3, 'm/s'] },
    states: { x: ['0 m', 'v'], v: ['0 m/s', '0 m/s^2'] },
    jumps: { kick: { when: 't >= 2 s', sets: { v: 'v + v_k' } } },
    stops: { there: 'x > 6 m' },
  };
  const motion = unwrap(evolve(modelOf(texts), valuesOf(texts)));
  expect([...motion.breaks]).toEqual([2]);
  expect(motion.endS).toBeCloseTo(4, 12);
});

test('a ball in a corner meets both walls in one moment', () => {
  const texts: ModelTexts = {
    parameters: {},
    states: { x: ['1 m', 'u'], y: ['2 m', 'w'], u: ['-1 m/s', '0 m/s^2'], w: ['-2 m/s', '0 m/s^2'] },
    jumps: {
      'left wall': { when: 'x < 0 m', sets: { u: '-u' } },
      'lower wall': { when: 'y < 0 m', sets: { w: '-w' } },
    },
    lasts: '2 s',
  };
  const motion = unwrap(evolve(modelOf(texts), valuesOf(texts)));
  const state = new Float64Array(4);
  motion.stateAt(2, state);
  expect(state[0]).toBeCloseTo(1, 12);
  expect(state[1]).toBeCloseTo(2, 12);
});

test('a jump brings about another', () => {
  const texts: ModelTexts = {
    parameters: {},
    states: { x: ['0 m', '1 m/s'], n: ['0', '0 1/s'] },
    jumps: {
      'back to the start': { when: 'x > 1 m', sets: { x: '0 m', n: 'n + 1' } },
      'a round is full': { when: 'n > 2.5', sets: { n: '0' } },
    },
    lasts: '7.5 s',
  };
  const motion = unwrap(evolve(modelOf(texts), valuesOf(texts)));
  const state = new Float64Array(2);
  motion.stateAt(7.5, state);
  expect(state[0]).toBeCloseTo(0.5, 12);
  expect(state[1]).toBe(1);
  motion.stateAt(2.5, state);
  expect(state[1]).toBe(2);
});

test('jumps that bring about one another for ever end the motion with a word', () => {
  const texts: ModelTexts = {
    parameters: {},
    states: { x: ['0 m', '1 m/s'], s: ['1', '0 1/s'] },
    jumps: {
      down: { when: 'x > 1 m and s > 0', sets: { s: '-s' } },
      up: { when: 'x > 1 m and s < 0', sets: { s: '-s' } },
    },
    lasts: '3 s',
  };
  const outcome = evolve(modelOf(texts), valuesOf(texts));
  expect(unwrap(outcome).ended).toBe('where jumps pile up');
  expect(unwrap(outcome).endS).toBeCloseTo(1, 12);
});

test('friction that sticks lets go at a jump', () => {
  const texts: ModelTexts = {
    parameters: { a: [2, 'm/s^2'], v_k: [3, 'm/s'] },
    states: { x: ['0 m', 'v'], v: ['1 m/s', '-dry(a, v)'] },
    jumps: { kick: { when: 't > 1 s', sets: { v: 'v + v_k' } } },
    lasts: '4 s',
  };
  const motion = unwrap(evolve(modelOf(texts), valuesOf(texts)));
  const state = new Float64Array(2);
  motion.stateAt(4, state);
  expect(state[0]).toBeCloseTo(1 / 4 + 9 / 4, 10);
  expect(state[1]).toBe(0);
  for (const [k, t] of [0.5, 1, 2.5].entries()) expect(motion.breaks[k]).toBeCloseTo(t, 10);
});

test('in equal steps a jump is made at the end of its step, and converges', () => {
  const model = modelOf(ball);
  const exact = new Float64Array(2);
  unwrap(evolve(model, valuesOf(ball))).stateAt(1.2, exact);
  const errors = [1e-3, 5e-4, 2.5e-4].map((stepS) => {
    const motion = unwrap(classroomSteps(model, valuesOf(ball), { stepper: 'midpoint', stepS }));
    const state = new Float64Array(2);
    motion.stateAt(1.2, state);
    return Math.abs((state[0] ?? 0) - (exact[0] ?? 0));
  });
  expect(errors[0]).toBeLessThan(0.02);
  expect(errors[2]).toBeLessThan(0.01);
});

describe('what is wrong with a jump is told', () => {
  const built = (jumps: ModelTexts['jumps']): string[] =>
    problemsOf(buildModel(sourceOf({ ...ball, ...(jumps === undefined ? {} : { jumps }) })));

  test.each([
    [{ j: { when: 'x < x_f', sets: { h: '1 m' } } }, 'sets h, which is no state'],
    [{ j: { when: 'x < x_f', sets: {} } }, 'sets nothing'],
    [{ j: { when: 'x < x_f', sets: { v: '-e*x' } } }, 'the jump "j", v'],
    [{ j: { when: 'x', sets: { v: '-v' } } }, 'condition'],
  ])('%j', (jumps, words) => {
    expect(built(jumps).join('\n')).toContain(words);
  });

  test('a condition that is true at the start', () => {
    const texts: ModelTexts = { ...ball, states: { x: ['-h', 'v'], v: ['0 m/s', '-g'] } };
    expect(problemsOf(evolve(modelOf(texts), valuesOf(texts)))[0]).toContain('already true at the start');
  });

  test('a value that is not finite', () => {
    const texts: ModelTexts = { ...ball, jumps: { j: { when: 'x < x_f', sets: { v: 'v*sqrt(-e)' } } } };
    expect(problemsOf(evolve(modelOf(texts), valuesOf(texts)))[0]).toContain('not a finite number');
  });
});

test('the batch engine leaves models with jumps to the general evolution', () => {
  expect(problemsOf(createBatchEngine(modelOf(ball), []))[0]).toContain('its states jump');
});
