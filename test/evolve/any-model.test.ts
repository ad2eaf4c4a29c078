import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { classroomSteps, evolve } from '../../src/evolve/index.ts';
import { buildModel } from '../../src/model/index.ts';
import { type ModelTexts, modelOf, problemsOf, sourceOf, unwrap, valuesOf } from './model-from-texts.ts';

const seed = 20_262;

/** A dimensionless expression of x, v, the time and two constants, with everything that switches. */
const { value: anyValue } = fc.letrec<{ value: string; condition: string }>((tie) => ({
  value: fc.oneof(
    { maxDepth: 4, withCrossShrink: true },
    fc.constantFrom('x', 'v', 'a', 'b', 't/second', '1', '2', '0.3'),
    fc
      .tuple(tie('value'), fc.constantFrom('+', '-', '*', '/'), tie('value'))
      .map(([l, o, r]) => `(${l} ${o} ${r})`),
    fc
      .tuple(fc.constantFrom('sin', 'abs', 'sign', 'sqrt', 'exp', 'ln', 'floor'), tie('value'))
      .map(([f, v]) => `${f}(${v})`),
    fc
      .tuple(fc.constantFrom('min', 'max', 'hypot'), tie('value'), tie('value'))
      .map(([f, l, r]) => `${f}(${l}, ${r})`),
    fc.tuple(tie('condition'), tie('value'), tie('value')).map(([c, l, r]) => `if(${c}, ${l}, ${r})`),
    fc
      .tuple(fc.constantFrom('x', 'v', '(x - v)'), fc.constantFrom('a', '0.2', 'abs(x)'))
      .map(([v, l]) => `(-dry(${l}, ${v}))`),
  ),
  condition: fc.oneof(
    { maxDepth: 3 },
    fc
      .tuple(tie('value'), fc.constantFrom('<', '<=', '>', '>='), tie('value'))
      .map(([l, o, r]) => `${l} ${o} ${r}`),
    fc
      .tuple(tie('condition'), fc.constantFrom('and', 'or'), tie('condition'))
      .map(([l, o, r]) => `(${l} ${o} ${r})`),
    tie('condition').map((c) => `not (${c})`),
  ),
}));

describe('any model at all', () => {
  it('gets a motion of finite numbers, or sentences that say why not; never an exception, never a hang', () => {
    fc.assert(
      fc.property(anyValue, anyValue, fc.double({ min: -2, max: 2, noNaN: true }), (first, second, start) => {
        const texts: ModelTexts = {
          parameters: { second: [1, 's'], a: [0.5, '1'], b: [-1.5, '1'], start: [start, '1'] },
          states: { x: ['start', `(${first})/second`], v: ['1', `(${second})/second`] },
          stops: { far: 'abs(x) > 100' },
          lasts: '3 s',
          holdsWhile: { near: 'x < 1 or v > 0' },
          signals: { speed: "x'", sum: `x + ${second}` },
        };
        const built = buildModel(sourceOf(texts));
        if (!built.ok) {
          expect(problemsOf(built).every((sentence) => sentence.length > 20)).toBe(true);
          return;
        }
        const p = valuesOf(texts);
        const outcomes = [
          evolve(built.value, p, { maxSteps: 1000, relativeTolerance: 1e-6 }),
          evolve(built.value, p, { maxSteps: 300, relativeTolerance: 1e-5, method: 'implicit' }),
          classroomSteps(built.value, p, { stepper: 'midpoint', stepS: 0.05 }),
        ];
        const state = new Float64Array(2);
        for (const outcome of outcomes) {
          if (!outcome.ok) {
            expect(problemsOf(outcome).every((sentence) => sentence.length > 20)).toBe(true);
            continue;
          }
          const motion = outcome.value;
          for (const share of [0, 0.31, 1]) {
            motion.stateAt(motion.startS + share * (motion.endS - motion.startS), state);
            expect(state.every(Number.isFinite)).toBe(true);
          }
        }
      }),
      { seed, numRuns: 120 },
    );
  });

  it('three coupled frictions, however they stick and slip, agree with ten thousand small steps', () => {
    const texts: ModelTexts = {
      parameters: {
        k: [10, 'N/m'],
        q: [5, 'N/m'],
        m: [1, 'kg'],
        M: [2, 'kg'],
        F: [1, 'N'],
        G: [0.5, 'N'],
        H: [0.7, 'N'],
        A: [1, 'N'],
        w: [2, 'rad/s'],
        c: [0.1, 'kg/m'],
        x_0: [0.3, 'm'],
        v_0: [0, 'm/s'],
      },
      states: {
        x: ['x_0', 'v'],
        v: ['v_0', '(-k*x - q*(x - y) - dry(F, v - u) - dry(G, v) - c*v*abs(v) + A*sin(w*t))/m'],
        y: ['0 m', 'u'],
        u: ['0 m/s', '(q*(x - y) + dry(F, v - u) - dry(H, u))/M'],
      },
      lasts: '3 s',
      signals: { x: 'x', y: 'y' },
    };
    const model = modelOf(texts);
    const between = (min: number, max: number) => fc.double({ min, max, noNaN: true });
    const limit = fc.oneof(
      { weight: 4, arbitrary: between(0.01, 1.5) },
      { weight: 1, arbitrary: fc.constant(0) },
    );
    fc.assert(
      fc.property(
        limit,
        limit,
        limit,
        between(0, 3),
        between(0.5, 8),
        between(-0.3, 0.3),
        between(-1, 1),
        (F, G, H, A, w, x_0, v_0) => {
          const p = valuesOf(texts, { F, G, H, A, w, x_0, v_0 });
          const motion = unwrap(evolve(model, p));
          const steps = unwrap(classroomSteps(model, p, { stepper: 'fourth-order', stepS: 3e-4 }));
          for (const t of [0.7, 1.5, 3]) {
            expect(Math.abs(motion.signalAt(0, t) - steps.signalAt(0, t))).toBeLessThan(1e-3);
            expect(Math.abs(motion.signalAt(1, t) - steps.signalAt(1, t))).toBeLessThan(1e-3);
          }
        },
      ),
      { seed, numRuns: 15 },
    );
  });
});
