import { describe, expect, it } from 'vitest';
import { createEvolver, evolve, type Motion } from '../../src/evolve/index.ts';
import published from '../published/mechanics-closed-forms.json' with { type: 'json' };
import { type ModelTexts, modelOf, problemsOf, unwrap, valuesOf } from './model-from-texts.ts';

const tight = { relativeTolerance: 1e-12 };

function run(texts: ModelTexts, options = tight): Motion {
  return unwrap(evolve(modelOf(texts), valuesOf(texts), options));
}

function stateAt(motion: Motion, t: number, n = 2): Float64Array {
  const out = new Float64Array(n);
  motion.stateAt(t, out);
  return out;
}

const swing: ModelTexts = {
  parameters: { w: [2, 'rad/s'], A: [0.3, 'm'], level: [0.1, 'm'] },
  states: { x: ['A', 'v'], v: ['0 m/s', '-w^2*x'] },
  lasts: '30 s',
};

describe('switching events', () => {
  it('a mass that falls on a spring touches, is squeezed most and leaves at the tabulated moments', () => {
    const { parameters: p, values } = published.items['contact-with-spring'];
    const motion = run({
      parameters: { m: [p.m, 'kg'], k: [p.k, 'N/m'], h: [p.h, 'm'], g: [p.g, 'm/s^2'] },
      states: { y: ['h', 'v'], v: ['0 m/s', '-g + if(y < 0 m, -k*y/m, 0)'] },
      stops: { 'up again': 'v < 0 m/s and y > 1 m and t > 0.7 s' },
      holdsWhile: { 'on the way down': 'v <= 0 m/s' },
      signals: { force: 'max(0, -k*y)' },
    });
    expect(motion.breaks[0]).toBeCloseTo(values.tTouch, 12);
    expect(motion.breaks[1]).toBeCloseTo(values.tLeave, 12);
    const squeezed = motion.holds[0].failsAt;
    expect(-(squeezed?.state[0] ?? 0)).toBeCloseTo(values.maxCompression, 11);
    expect(motion.signalAt(0, squeezed?.t ?? 0)).toBeCloseTo(values.maxForce, 9);
    expect(motion.stop).toBe('up again');
    expect(motion.endS).toBeCloseTo(values.tLeave + values.tTouch, 10);
  });

  it('a square drive is followed through every one of its 318 changes, though a step could leap over dozens', () => {
    const texts: ModelTexts = {
      parameters: { a: [2, 'm/s^2'], w: [100, 'rad/s'] },
      states: { x: ['0 m', 'v'], v: ['0 m/s', 'a*sign(sin(w*t))'] },
      lasts: '10 s',
    };
    const motion = unwrap(evolve(modelOf(texts), valuesOf(texts), { maxStepS: 10 }));
    expect(motion.breaks).toHaveLength(Math.floor(1000 / Math.PI));
    motion.breaks.forEach((t, i) => {
      expect(Math.abs(t - ((i + 1) * Math.PI) / 100)).toBeLessThan(1e-12);
    });
    // After each full period the speed is back at zero.
    expect(stateAt(motion, (100 * Math.PI) / 50)[1]).toBeCloseTo(0, 12);
  });

  it('a pair of crossings inside one step is found, down to a touch of a millionth', () => {
    // x = t, peak of 1 − (t − 5)² above `level`: crossings at 5 ± √(1 − level)
    for (const depth of [1e-2, 1e-4, 1e-6]) {
      const texts: ModelTexts = {
        parameters: { u: [1, 'm/s'], level: [1 - depth, 'm'], one: [1, 'm'] },
        states: { x: ['0 m', 'u'] },
        lasts: '10 s',
        holdsWhile: { 'below the level': 'one - (x - 5*one)^2/one < level' },
        signals: { above: 'if(one - (x - 5*one)^2/one < level, 0, 1)' },
      };
      const motion = run(texts);
      expect(motion.breaks).toHaveLength(2);
      expect(motion.holds[0].failsAt?.t).toBeCloseTo(5 - Math.sqrt(depth), 9);
      expect(motion.breaks[1]).toBeCloseTo(5 + Math.sqrt(depth), 9);
      expect(motion.signalAt(0, 5)).toBe(1);
    }
  });

  it('several events in one step come in their order, and a shared one comes once', () => {
    const motion = run({
      parameters: { u: [1, 'm/s'], far: [100, 'm'] },
      states: {
        x: ['0 m', 'u'],
        y: ['0 m', 'u*(1 + if(x > 3 m, 1, 0) + if(x > 1 m, 2, 0) + if(3 m < x, 4, 0))'],
      },
      lasts: '10 s',
      holdsWhile: { 'third first': 'x < 2.5 m', 'then the fourth': 'x < 2.75 m' },
      signals: { step: 'if(x > 2 m, 1, 0) + if(x <= 3 m, 0, 1)' },
    });
    expect([...motion.breaks].map((t) => Number(t.toFixed(10)))).toEqual([1, 2, 3]);
    expect(motion.holds.map(({ failsAt }) => failsAt?.t.toFixed(10))).toEqual([
      '2.5000000000',
      '2.7500000000',
    ]);
    expect(stateAt(motion, 10)[1]).toBeCloseTo(1 + 2 * 3 + 7 * 8, 11);
  });

  it('two functions that cross at the same moment both change', () => {
    const motion = run({
      parameters: { u: [1, 'm/s'] },
      states: { x: ['-1 m', 'u*(1 + if(x > 0 m and y > 0 m, 1, 0))'], y: ['-2 m', '2*u'] },
      lasts: '3 s',
    });
    expect(stateAt(motion, 3)[0]).toBeCloseTo(4, 11);
  });

  it('minimum and maximum change their branch where their arguments meet', () => {
    const motion = run({
      parameters: { w: [2, 'rad/s'], a: [1, 'm/s^2'] },
      states: { v: ['0 m/s', 'a*max(0, min(sin(w*t), 0.5))'] },
      lasts: '3 s',
    });
    const first = Math.asin(0.5) / 2;
    const expected = [first, Math.PI / 2 - first, Math.PI / 2].map((t) => t.toFixed(10));
    expect([...motion.breaks].map((t) => t.toFixed(10))).toEqual(expected);
    const gained = 2 * ((1 - Math.cos(2 * first)) / 2) + 0.5 * (Math.PI / 2 - 2 * first);
    expect(stateAt(motion, 3, 1)[0]).toBeCloseTo(gained, 11);
  });

  it('a root that ends at its own switch is followed up to it and no further', () => {
    // dh/dt = −√h from h = 1: h = (1 − t/2)², empty at t = 2; then it stays empty
    const motion = run({
      parameters: { h_0: [1, 'm'], c: [1, 'm^0.5/s'] },
      states: { h: ['h_0', 'if(h > 0 m, -c*sqrt(h), 0)'] },
      lasts: '5 s',
    });
    expect(motion.breaks[0]).toBeCloseTo(2, 6);
    expect(stateAt(motion, 1, 1)[0]).toBeCloseTo(0.25, 11);
    expect(Math.abs(stateAt(motion, 4, 1)[0])).toBeLessThan(1e-12);
  });
});

describe('stops and what holds', () => {
  it('a stop at the start value fires when the motion comes back to it, not at the start', () => {
    const { lasts: _, ...open } = swing;
    const thrown = { ...open, states: { x: ['0 m', 'v'], v: ['w*A', '-w^2*x'] } as const };
    const motion = run({ ...thrown, stops: { back: 'x <= 0 m' } });
    expect(motion.endS).toBeCloseTo(Math.PI / 2, 12);
    const turned = run({ ...open, stops: { turned: 'v >= 0 m/s' } });
    expect(turned.endS).toBeCloseTo(Math.PI / 2, 12);
  });

  it('the first of several stops ends the motion and gives its name', () => {
    const motion = run({
      ...swing,
      stops: { low: 'x < -0.1 m', deep: 'x < -0.2 m', 'half way': 'x < 0 m and v > 0 m/s' },
    });
    expect(motion.stop).toBe('low');
    expect(motion.endS).toBeCloseTo(Math.acos(-1 / 3) / 2, 12);
    expect(motion.ended).toBe('by a stop');
  });

  it('a stop of several parts comes when all hold, or any, or not', () => {
    const { lasts: _, ...open } = swing;
    const both = run({ ...open, stops: { both: 'x > 0.1 m and v > 0 m/s' } });
    expect(both.endS).toBeCloseTo((2 * Math.PI - Math.acos(1 / 3)) / 2, 11);
    const either = run({ ...open, stops: { either: 'x > 0.31 m or x < level' } });
    expect(either.endS).toBeCloseTo(Math.acos(1 / 3) / 2, 12);
    const neither = run({ ...open, stops: { neither: 'not (x > 0.1 m)' } });
    expect(neither.endS).toBeCloseTo(Math.acos(1 / 3) / 2, 12);
  });

  it('what holds is told of only where it first fails, with the state there', () => {
    const motion = run({
      ...swing,
      holdsWhile: { high: 'x >= level', always: 'abs(x) < 2*A', never: 'x > A' },
    });
    const [high, always, never] = motion.holds;
    expect(high.failsAt?.t).toBeCloseTo(Math.acos(1 / 3) / 2, 11);
    expect(high.failsAt?.state[0]).toBeCloseTo(0.1, 11);
    expect(always.failsAt).toBeNull();
    expect(never.failsAt?.t).toBe(0);
    expect(motion.breaks).toHaveLength(0);
  });

  it('1000 swings later a crossing is still on time', () => {
    const { lasts: _, ...open } = swing;
    const motion = run({ ...open, stops: { late: 'x < 0 m and t > 3141 s' } });
    expect(motion.endS).toBeCloseTo(1000 * Math.PI + Math.PI / 4, 7);
  });
});

describe('looking at a motion', () => {
  const model = modelOf({
    ...swing,
    signals: { place: 'x', speed: "x'", pull: "x''", energy: "x'^2 + w^2*x^2", side: 'sign(x)' },
  });
  const motion = unwrap(evolve(model, valuesOf(swing), tight));

  it('gives states between steps as accurately as at steps', () => {
    const out = new Float64Array(2);
    for (let i = 0; i <= 1000; i++) {
      const t = (motion.endS * i) / 1000;
      motion.stateAt(t, out);
      expect(Math.abs(out[0] - 0.3 * Math.cos(2 * t))).toBeLessThan(3e-11);
      expect(Math.abs(out[1] + 0.6 * Math.sin(2 * t))).toBeLessThan(6e-11);
    }
  });

  it('gives signals with first and second derivatives', () => {
    expect(motion.signalAt(1, 7)).toBeCloseTo(-0.6 * Math.sin(14), 10);
    expect(motion.signalAt(2, 7)).toBeCloseTo(-1.2 * Math.cos(14), 10);
    expect(motion.signalAt(3, 7)).toBeCloseTo(0.36, 10);
  });

  it('gives the value after a break, and on request the one before', () => {
    const t = motion.breaks[0];
    expect(t).toBeCloseTo(Math.PI / 4, 11);
    expect(motion.signalBefore(4, t)).toBe(1);
    expect(motion.signalAt(4, t)).toBe(-1);
    expect(motion.signalBefore(4, 0)).toBe(1);
  });

  it('answers in any order of times, and with NaN outside the motion', () => {
    const times = [29, 0.5, 12, 12.001, 3, 30, 0];
    for (const t of times) expect(motion.signalAt(0, t)).toBeCloseTo(0.3 * Math.cos(2 * t), 9);
    expect(motion.signalAt(0, -0.1)).toBeNaN();
    expect(motion.signalAt(0, 30.1)).toBeNaN();
  });

  it('throws for a signal that is not there, and for a motion whose evolver has gone on', () => {
    expect(() => motion.signalAt(5, 1)).toThrow('The model has 5 signals, none with index 5.');
    const evolver = createEvolver(model);
    const first = unwrap(evolver.run(valuesOf(swing)));
    const second = unwrap(evolver.run(valuesOf(swing, { A: 0.2 })));
    expect(second.signalAt(0, 0)).toBe(0.2);
    expect(() => first.signalAt(0, 0)).toThrow('overwritten by a later run');
  });
});

describe('a motion that cannot be followed to its end', () => {
  const told = (texts: ModelTexts, options = {}): string[] =>
    problemsOf(evolve(modelOf(texts), valuesOf(texts), options));
  const { lasts: _, ...open } = swing;

  it('a stop that never comes is told with the last state', () => {
    expect(told({ ...open, stops: { never: 'x > 1 m' } }, { maxTimeS: 50 })[0]).toMatch(
      /^motion {2}After 50 s of motion the stop "never" has not come \(t = 50\.\d+ s, x = -?0\.\d+ m, v = -?0\.\d+ m\/s\)\./,
    );
    expect(told({ ...open, stops: { a: 'x > 1 m', b: 'x < -1 m' } }, { maxSteps: 100 })[0]).toContain(
      'given up after 100 steps at t = ',
    );
  });

  it('a motion that runs away in finite time is told of (x˙ = x²/T: infinite at t = 1 s)', () => {
    const [found] = told({
      parameters: { one: [1, 's m'] },
      states: { x: ['1 m', 'x^2/one'] },
      lasts: '2 s',
    });
    expect(found).toMatch(/at t = 1 s|after t = 1 s/);
  });

  it('starts, rates and durations that are not finite are told of before any step', () => {
    const bad = (start: string, rate: string, lasts = '1 s'): string =>
      told({ parameters: { L: [0, 'm'], T: [1, 's'] }, states: { x: [start, rate] }, lasts })[0];
    expect(bad('L/L', '1/T')).toContain('The start value of x is not a finite number');
    expect(bad('1', 'ln(-x)/T')).toContain('The rate of x is not a finite number at the start');
    expect(bad('1', 'x/T', 'T*(-1)')).toContain('The model lasts -1 s with these quantities');
  });

  it('a stop that is true at the start is told of', () => {
    expect(told({ ...open, stops: { high: 'x > 0.1 m' } })[0]).toContain(
      'The stop "high" is already true at the start (t = 0 s, x = 0.3 m, v = 0 m/s)',
    );
  });

  it('can be interrupted', () => {
    expect(told(swing, { signal: { aborted: true } })).toEqual([
      'motion  The motion was interrupted at t = 0 s.',
    ]);
  });

  it('a jump without a switch is told of, or passed, never a hang', () => {
    const outcome = evolve(
      modelOf({
        parameters: { T: [1, 's'] },
        states: { x: ['0', '(1 + floor(10*sin(t/T)))/T'] },
        lasts: '10 s',
      }),
      Float64Array.of(1),
    );
    if (outcome.ok) expect(outcome.value.steps.rejected).toBeLessThan(20_000);
    else expect(outcome.problems[0].code).toBe('step-too-small');
  });
});
