import { describe, expect, it } from 'vitest';
import { type Asked, createBatchEngine, drawStatus } from '../../src/engine/index.ts';
import { createEvolver, type Motion } from '../../src/evolve/index.ts';
import type { Model } from '../../src/model/index.ts';
import { type ModelTexts, modelOf, unwrap, valuesOf } from '../evolve/model-from-texts.ts';
import { drawRows, runAll } from './draws.ts';
import { drapedChain, longSwing, towChain } from './labs.ts';

/** Steps are chosen alike but not to the bit, so readings agree within the tolerance of 1e-9. */
const accuracy = 1e-9;

interface Compared {
  readonly model: Model;
  readonly rows: Float64Array;
  readonly asked: readonly Asked[];
  readonly columns: number;
}

/** The engine against the general evolution, draw by draw; calls back with each motion. */
function compare(
  { model, rows, asked, columns }: Compared,
  look: (motion: Motion, draw: number) => void,
): void {
  const engine = unwrap(createBatchEngine(model, asked, { extraColumns: columns }));
  const result = runAll(engine, rows);
  const evolver = createEvolver(model);
  const n = model.stateNames.length;
  const state = new Float64Array(n);
  for (let draw = 0; draw < result.status.length; draw++) {
    expect(result.status[draw], `draw ${draw}`).toBe(drawStatus.ok);
    const from = draw * engine.rowLength;
    const motion = unwrap(evolver.run(rows.slice(from, from + model.parameterNames.length)));
    motion.stateAt(motion.endS, state);
    expect(Math.abs(result.endS[draw] / motion.endS - 1)).toBeLessThan(accuracy);
    const size = Math.max(...state.map(Math.abs));
    for (let i = 0; i < n; i++) {
      expect(Math.abs(result.endState[draw * n + i] - state[i])).toBeLessThan(accuracy * size);
    }
    for (const [k, hold] of motion.holds.entries()) {
      const failedAt = result.failedAt[draw * motion.holds.length + k];
      if (hold.failsAt === null) expect(failedAt).toBeNaN();
      else expect(Math.abs(failedAt / hold.failsAt.t - 1)).toBeLessThan(accuracy);
    }
    for (const [index, wanted] of asked.entries()) {
      const { count, values } = result.series[index];
      if (wanted.kind !== 'samples' || typeof wanted.interval !== 'number') continue;
      expect(count[draw]).toBe(Math.floor(motion.endS / wanted.interval + 1e-9) + 1);
      for (let i = 0; i < count[draw]; i++) {
        const t = Math.min(i * wanted.interval, motion.endS);
        const expected = motion.signalBefore(wanted.signal, t);
        expect(Math.abs(values[draw * wanted.most + i] - expected)).toBeLessThan(accuracy * size);
      }
    }
    look(motion, draw);
  }
}

describe('the engine agrees with the general evolution to 1e-9 at equal tolerance', () => {
  for (const [name, texts, spacing, phase] of [
    [
      'on the draped chain, with dry friction, a stop and a condition that fails',
      drapedChain,
      Math.PI / 10,
      7,
    ],
    ['on the tow chain, with dry friction and a stop', towChain, Math.PI / 5, 10],
  ] as const) {
    it(`${name}: ends, failures, and each edge of the wheel gate`, () => {
      const model = modelOf(texts);
      const most = 300;
      const rows = drawRows(valuesOf(texts), 40, 0.02);
      const asked: readonly Asked[] = [
        { kind: 'crossings', signal: 0, spacing, offset: { column: phase }, most },
        { kind: 'samples', signal: 0, start: 0, interval: 0.05, most },
      ];
      const { series } = runAll(unwrap(createBatchEngine(model, asked)), rows);
      compare({ model, rows, asked, columns: 0 }, (motion, draw) => {
        const offset = rows[draw * model.parameterNames.length + phase];
        const start = motion.signalAt(0, 0);
        const turned = (motion.signalBefore(0, motion.endS) - start) / spacing + offset;
        expect(series[0].count[draw]).toBe(Math.floor(turned));
        for (let k = 1; k <= series[0].count[draw]; k++) {
          const t = series[0].values[draw * most + k - 1];
          // The slope there turns the miss into a time.
          const miss = motion.signalAt(0, t) - start - (k - offset) * spacing;
          const slope = (motion.signalAt(0, t) - motion.signalAt(0, 0.999 * t)) / (0.001 * t);
          expect(Math.abs(miss / slope)).toBeLessThan(accuracy * motion.endS);
        }
      });
    });
  }

  it('on the long swing, whose air resistance changes its branch at every turn', () => {
    const model = modelOf(longSwing);
    const values = valuesOf(longSwing);
    const rows = drawRows([...values, values[1] / 8], 40, 0.02);
    const asked: readonly Asked[] = [
      { kind: 'samples', signal: 0, start: 0, interval: 0.005, most: 1000 },
      { kind: 'crossings', signal: 0, spacing: 8, offset: { column: values.length }, most: 20 },
    ];
    // The last column must follow the amplitude of its row, so that whole spacings stand at the lowest point.
    for (let at = 0; at < rows.length; at += values.length + 1) rows[at + values.length] = rows[at + 1] / 8;
    const { series } = runAll(unwrap(createBatchEngine(model, asked, { extraColumns: 1 })), rows);
    compare({ model, rows, asked, columns: 1 }, (motion, draw) => {
      expect(series[1].count[draw]).toBe(6);
      for (let k = 0; k < 6; k++) {
        expect(Math.abs(motion.signalAt(0, series[1].values[draw * 20 + k]))).toBeLessThan(1e-9);
      }
    });
  });

  it('where the sign of a state steers a rate that jumps, and the signal of another bends there', () => {
    const texts: ModelTexts = {
      parameters: { a: [1, 'm'], w: [2, '1/s'], k: [0.7, '1/s'] },
      states: { x: ['a', 'v'], v: ['0 m/s', '-w^2*x*(1 + 0.5*sign(x)) - k*abs(v)*sign(v)/2'] },
      lasts: '6 s',
      signals: { height: 'abs(x)' },
    };
    const model = modelOf(texts);
    compare(
      {
        model,
        rows: drawRows(valuesOf(texts), 20, 0.1),
        asked: [{ kind: 'samples', signal: 0, start: 0, interval: 0.05, most: 200 }],
        columns: 0,
      },
      (motion) => expect(motion.breaks.length).toBeGreaterThan(3),
    );
  });

  it('times at which a falling body passes given places (closed form), and places that it has behind it or never meets', () => {
    const texts: ModelTexts = {
      parameters: { a: [1.7, 'm/s^2'], x_0: [-0.05, 'm'], f: [0.02, 'm'] },
      states: { x: ['x_0', 'v'], v: ['0 m/s', 'a'] },
      lasts: '2 s',
      signals: { place: 'x' },
    };
    const passages = (levels: readonly number[]): Asked => ({ kind: 'passages', signal: 0, levels, most: 8 });
    const rows = drawRows(valuesOf(texts), 20, 0.2);
    const run = (levels: readonly number[]) =>
      runAll(unwrap(createBatchEngine(modelOf(texts), [passages(levels)])), rows);
    const levels = [0.1, 0.1, 0.35, 0.36, 2, 100];
    const { status, series } = run(levels);
    for (let draw = 0; draw < 20; draw++) {
      const [a, start] = rows.subarray(3 * draw, 3 * draw + 2);
      const times = levels.map((level) => Math.sqrt((2 * (level - start)) / a)).filter((t) => t <= 2);
      expect(status[draw]).toBe(drawStatus.ok);
      expect(series[0].count[draw]).toBe(times.length);
      for (const [k, t] of times.entries()) {
        expect(Math.abs(series[0].values[8 * draw + k] / t - 1)).toBeLessThan(accuracy);
      }
    }
    // The start beyond the first place, places out of order.
    expect([...new Set(run([-0.2, 0.1]).status)]).toEqual([drawStatus.general]);
    expect([...new Set(run([0.3, 0.2]).status)]).toEqual([drawStatus.notFinite]);
  });

  it('a body that comes back through a gate is for the general evolution, and not before', () => {
    const texts: ModelTexts = {
      parameters: { A: [1, ''], w: [2, '1/s'] },
      states: { y: ['0*A', 'u'], u: ['A*w', '-w^2*y'] },
      lasts: '1.2 s',
      signals: { place: 'y' },
    };
    // y = sin 2t rises until π/4 s and is back at 0.7 at 1.183 s.
    const statusWith = (levels: readonly number[]) =>
      runAll(
        unwrap(createBatchEngine(modelOf(texts), [{ kind: 'passages', signal: 0, levels, most: 4 }])),
        valuesOf(texts),
      ).status[0];
    expect(statusWith([0.2, 0.65])).toBe(drawStatus.ok);
    expect(statusWith([0.2, 0.7])).toBe(drawStatus.general);
  });

  it('means over exposures, from the place of a shaken mirror: sin has its mean in closed form', () => {
    const texts: ModelTexts = {
      parameters: { A: [3, ''], w: [5, '1/s'] },
      states: { y: ['0*A', 'u'], u: ['A*w', '-w^2*y'] },
      lasts: '4 s',
      signals: { place: 'y' },
    };
    const model = modelOf(texts);
    for (const [interval, over] of [
      [0.02, 0.002],
      [0.05, 0.05],
      [0.3, 0.25],
    ] as const) {
      const rows = drawRows(valuesOf(texts), 20, 0.2);
      const engine = unwrap(
        createBatchEngine(model, [{ kind: 'samples', signal: 0, start: 0, interval, over, most: 250 }]),
      );
      const { status, series } = runAll(engine, rows);
      const { count, values } = series[0];
      for (let draw = 0; draw < 20; draw++) {
        expect(status[draw]).toBe(drawStatus.ok);
        // A picture whose exposure the end cuts off is not taken.
        expect(count[draw]).toBe(Math.floor((4 - over) / interval + 1e-9) + 1);
        const [A, w] = rows.subarray(2 * draw, 2 * draw + 2);
        for (let k = 0; k < count[draw]; k++) {
          const t = k * interval;
          const mean = (A * (Math.cos(w * t) - Math.cos(w * (t + over)))) / (w * over);
          expect(Math.abs(values[draw * 250 + k] - mean)).toBeLessThan(3e-8 * A);
        }
      }
    }
  });

  it('an exposure during which the equations change their branch is for the general evolution', () => {
    const texts: ModelTexts = {
      parameters: { a: [1, 'm/s^2'] },
      states: { x: ['0 m', 'v'], v: ['0 m/s', 'if(x < 0.5 m, a, -a)'] },
      lasts: '1.2 s',
      signals: { place: 'x' },
    };
    const statusWith = (interval: number, over: number): number | undefined => {
      const asked: Asked = { kind: 'samples', signal: 0, start: 0, interval, over, most: 100 };
      return runAll(unwrap(createBatchEngine(modelOf(texts), [asked])), Float64Array.of(1)).status[0];
    };
    // x reaches 0.5 m at 1 s.
    expect(statusWith(0.3, 0.05)).toBe(drawStatus.ok);
    expect(statusWith(0.3, 0.15)).toBe(drawStatus.general);
  });

  it('where a wheel turns back, and marks pass the gate both ways (closed form)', () => {
    // angle = A (1 − cos wt): it rises to 2A, comes back to 0 and rises again
    const texts: ModelTexts = {
      parameters: { A: [3, ''], w: [2, '1/s'] },
      states: { y: ['0*A', 'u'], u: ['0*w', 'w^2*(A - y)'] },
      lasts: '4 s',
      signals: { angle: 'y' },
    };
    const model = modelOf(texts);
    const engine = unwrap(
      createBatchEngine(model, [{ kind: 'crossings', signal: 0, spacing: 1, offset: 0.5, most: 50 }]),
    );
    const { count, values } = runAll(engine, valuesOf(texts)).series[0];
    const expected: number[] = [];
    const up = [0.5, 1.5, 2.5, 3.5, 4.5, 5.5].map((angle) => Math.acos(1 - angle / 3) / 2);
    for (let turn = 0; turn < 3; turn++) {
      expected.push(
        ...up.map((t) => t + turn * Math.PI),
        ...up.map((t) => Math.PI * (turn + 1) - t).reverse(),
      );
    }
    const within = expected.filter((t) => t <= 4);
    expect(count[0]).toBe(within.length);
    for (const [k, t] of within.entries()) expect(Math.abs(values[k] - t)).toBeLessThan(1e-8);
  });
});
