import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { createEvolver, evolve } from '../../src/evolve/index.ts';
import { type ModelTexts, modelOf, unwrap, valuesOf } from './model-from-texts.ts';

const seed = 20_261;
const between = (min: number, max: number) => fc.double({ min, max, noNaN: true, noDefaultInfinity: true });

const spring: ModelTexts = {
  parameters: {
    k: [10, 'N/m'],
    m: [1, 'kg'],
    c: [0.1, 'kg/m'],
    F: [0.2, 'N'],
    A: [0.5, 'N'],
    w: [2, 'rad/s'],
    late: [0, 's'],
    x_0: [0.2, 'm'],
    v_0: [0, 'm/s'],
  },
  states: {
    x: ['x_0', 'v'],
    v: ['v_0', '(-k*x - c*v*abs(v) - dry(F, v) + A*sin(w*(t - late)))/m'],
    lost: ['0 J', 'c*v^2*abs(v) + dry(F, v)*v - A*sin(w*(t - late))*v'],
  },
  lasts: '6 s',
  signals: { energy: '(m*v^2 + k*x^2)/2', lost: 'lost', x: 'x' },
};

describe('laws that every motion keeps', () => {
  const model = modelOf(spring);
  const evolver = createEvolver(model);

  it('energy and what friction, drag and drive exchanged add up, whatever the forces', () => {
    fc.assert(
      fc.property(
        between(1, 50),
        between(0, 1),
        between(0, 1.5),
        between(0, 2),
        between(0.5, 10),
        between(-0.5, 0.5),
        between(-1, 1),
        (k, c, F, A, w, x_0, v_0) => {
          const motion = unwrap(
            evolver.run(valuesOf(spring, { k, c, F, A, w, x_0, v_0 }), { relativeTolerance: 1e-10 }),
          );
          const start = (v_0 ** 2 + k * x_0 ** 2) / 2;
          for (const t of [1, 2.5, 6]) {
            const balance = motion.signalAt(0, t) + motion.signalAt(1, t) - start;
            expect(Math.abs(balance)).toBeLessThan(1e-8 * (start + 1));
          }
        },
      ),
      { seed, numRuns: 150 },
    );
  });

  it('units do not matter: lengths in units a thousand times smaller give the same motion', () => {
    fc.assert(
      fc.property(
        between(0.05, 0.5),
        between(0, 1),
        fc.constantFrom(1e-6, 1e-3, 1e3, 1e6),
        (x_0, F, scale) => {
          const plain = unwrap(evolve(model, valuesOf(spring, { x_0, F, c: 0 })));
          const scaled = unwrap(
            evolve(model, valuesOf(spring, { x_0: x_0 * scale, F: F * scale, A: 0.5 * scale, c: 0 })),
          );
          for (const t of [0.7, 3, 6]) {
            const ratio = scaled.signalAt(2, t) / scale;
            expect(Math.abs(ratio - plain.signalAt(2, t))).toBeLessThan(3e-8 * x_0);
          }
        },
      ),
      { seed, numRuns: 40 },
    );
  });

  it('a drive that comes later moves what rested before it just as much later', () => {
    const texts: ModelTexts = {
      ...spring,
      states: {
        x: ['0 m', 'v'],
        v: ['0 m/s', '(-k*x - c*v*abs(v) + if(t > late, A*sin(w*(t - late)), 0))/m'],
      },
      signals: { x: 'x' },
    };
    const waiting = modelOf(texts);
    fc.assert(
      fc.property(between(0, 3), between(0.5, 5), (late, w) => {
        const first = unwrap(evolve(waiting, valuesOf(texts, { w, late: 0 })));
        const second = unwrap(evolve(waiting, valuesOf(texts, { w, late })));
        for (const t of [0.5, 1.5, 2.9]) {
          expect(Math.abs(second.signalAt(0, late + t) - first.signalAt(0, t))).toBeLessThan(1e-8);
        }
      }),
      { seed, numRuns: 40 },
    );
  });

  it('a smaller tolerance never makes the end much worse, and 1e-10 is good to 1e-8', () => {
    fc.assert(
      fc.property(between(0.05, 0.5), between(0, 1), between(0, 1), (x_0, F, c) => {
        const p = valuesOf(spring, { x_0, F, c });
        const endAt = (relativeTolerance: number): number =>
          unwrap(evolve(model, p, { relativeTolerance })).signalAt(2, 6);
        const truth = endAt(1e-13);
        expect(Math.abs(endAt(1e-6) - truth)).toBeLessThan(1e-4);
        expect(Math.abs(endAt(1e-10) - truth)).toBeLessThan(1e-8);
      }),
      { seed, numRuns: 25 },
    );
  });

  it('the same run gives the same bits, also when the evolver has done others between', () => {
    const p = valuesOf(spring);
    const first = unwrap(evolver.run(p)).signalAt(2, 5.3);
    evolver.run(valuesOf(spring, { F: 1, k: 3 }));
    expect(unwrap(evolver.run(p)).signalAt(2, 5.3)).toBe(first);
    expect(unwrap(evolve(model, p)).signalAt(2, 5.3)).toBe(first);
  });

  it('the implicit method agrees with the explicit one, through friction and switches too', () => {
    fc.assert(
      fc.property(between(0.05, 0.5), between(0, 1), between(0, 1), (x_0, F, c) => {
        const p = valuesOf(spring, { x_0, F, c });
        const explicit = unwrap(evolve(model, p, { method: 'explicit' }));
        const implicit = unwrap(evolve(model, p, { method: 'implicit', relativeTolerance: 1e-8 }));
        for (const t of [1, 3, 6]) {
          expect(Math.abs(implicit.signalAt(2, t) - explicit.signalAt(2, t))).toBeLessThan(1e-6);
        }
      }),
      { seed, numRuns: 15 },
    );
  });
});
