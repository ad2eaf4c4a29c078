import { describe, expect, it } from 'vitest';
import { type Asked, createBatchEngine, drawStatus } from '../../src/engine/index.ts';
import { type ModelTexts, modelOf, unwrap, valuesOf } from '../evolve/model-from-texts.ts';
import { runAll } from './draws.ts';

const fall: ModelTexts = {
  parameters: { g: [9.81, 'm/s^2'], h_0: [2, 'm'], k: [0, '1/m'] },
  states: { h: ['h_0', 'v'], v: ['0 m/s', '-g + k*v^2'] },
  stops: { 'it lands': 'h < 0 m' },
  signals: { height: 'h' },
};

function statusOf(
  texts: ModelTexts,
  changes: Readonly<Record<string, number>>,
  asked: readonly Asked[] = [],
) {
  const engine = unwrap(createBatchEngine(modelOf(texts), asked, { maxSteps: 2000 }));
  return runAll(engine, valuesOf(texts, changes)).status[0];
}

describe('what bad input gets from the engine', () => {
  it('a value that is not a number or not finite ends its draw, and no other', () => {
    const engine = unwrap(createBatchEngine(modelOf(fall), []));
    const rows = Float64Array.from([
      ...valuesOf(fall),
      ...valuesOf(fall, { g: Number.NaN }),
      ...valuesOf(fall, { h_0: Number.POSITIVE_INFINITY }),
      ...valuesOf(fall),
    ]);
    const { status, endS } = runAll(engine, rows);
    expect([...status]).toEqual([drawStatus.ok, drawStatus.notFinite, drawStatus.notFinite, drawStatus.ok]);
    expect(endS[0]).toBeCloseTo(Math.sqrt((2 * 2) / 9.81), 12);
    expect(endS[3]).toBe(endS[0]);
  });

  it('a stop that is true at the start is left to the general evolution, which says so', () => {
    expect(statusOf(fall, { h_0: -1 })).toBe(drawStatus.general);
  });

  it('a stop that never comes, and a motion that blows up, end by their budget', () => {
    expect(statusOf(fall, { g: -9.81 })).toBe(drawStatus.budget);
    expect(statusOf(fall, { g: -9.81, k: 5 })).not.toBe(drawStatus.ok);
  });

  it('a friction that sticks is left to the general evolution', () => {
    const start: ModelTexts = {
      parameters: { F: [1, 'N'], m: [2, 'kg'], v_0: [1, 'm/s'], x_0: [0, 'm'] },
      states: { x: ['x_0', 'v'], v: ['v_0', '-dry(F, v)/m'] },
      lasts: '5 s',
    };
    expect(statusOf(start, {})).toBe(drawStatus.general);
    expect(statusOf(start, { v_0: 100 })).toBe(drawStatus.ok);
    expect(statusOf(start, { v_0: 0 })).toBe(drawStatus.general);
  });

  it('more readings than there is room for end by their budget, and nothing is written beyond', () => {
    const asked: readonly Asked[] = [
      { kind: 'samples', signal: 0, start: 0, interval: 0.01, most: 5 },
      { kind: 'samples', signal: 0, start: 0, interval: 0.1, most: 20 },
    ];
    const engine = unwrap(createBatchEngine(modelOf(fall), asked));
    const { status, series } = runAll(engine, valuesOf(fall));
    expect(status[0]).toBe(drawStatus.budget);
    expect(series[0].count[0]).toBe(5);
    expect(series[1].values.every(Number.isFinite)).toBe(true);
    const edges: readonly Asked[] = [{ kind: 'crossings', signal: 0, spacing: 1e-9, offset: 0, most: 10 }];
    expect(statusOf(fall, {}, edges)).toBe(drawStatus.budget);
  });

  it('a spacing or interval that is zero, negative or no number ends the draw at once', () => {
    for (const step of [0, -1, Number.NaN]) {
      expect(statusOf(fall, {}, [{ kind: 'crossings', signal: 0, spacing: step, offset: 0, most: 9 }])).toBe(
        drawStatus.notFinite,
      );
      expect(statusOf(fall, {}, [{ kind: 'samples', signal: 0, start: 0, interval: step, most: 9 }])).toBe(
        drawStatus.notFinite,
      );
    }
  });

  it('work that is given up stops between groups of draws', () => {
    const engine = unwrap(createBatchEngine(modelOf(fall), []));
    const rows = new Float64Array(3 * 1000);
    for (let draw = 0; draw < 1000; draw++) rows.set(valuesOf(fall), 3 * draw);
    const result = engine.makeResult(1000);
    expect(engine.run(rows, 1000, result, { aborted: true })).toBe(0);
    let looks = 0;
    const signal = {
      get aborted() {
        looks += 1;
        return looks > 3;
      },
    };
    const done = engine.run(rows, 1000, result, signal);
    expect(done).toBeGreaterThan(0);
    expect(done).toBeLessThan(1000);
    expect(result.status[0]).toBe(drawStatus.ok);
    expect(result.status[999]).toBe(drawStatus.general);
  });

  it('integrals of quantities alone are worked out beforehand; of what moves they are refused with a sentence', () => {
    const withIntegral = (upper: string): ModelTexts => ({
      ...fall,
      states: { h: ['h_0', 'v'], v: ['0 m/s', `-g*integrate(3*s^2, s, 0, ${upper})`] },
    });
    const fixed = withIntegral('1');
    const engine = unwrap(createBatchEngine(modelOf(fixed), []));
    expect(runAll(engine, valuesOf(fixed)).endS[0]).toBeCloseTo(Math.sqrt((2 * 2) / 9.81), 11);
    const moving = createBatchEngine(modelOf(withIntegral('k*h + 1')), []);
    expect(moving.ok).toBe(false);
    if (!moving.ok) expect(moving.problems[0].code).toBe('not-in-engine');
  });

  it('huge equations are refused, and large ones followed, in bounded time', () => {
    const texts = (count: number): ModelTexts => ({
      parameters: { ...fall.parameters, m_1: [1, 'm'], w: [1, '1/s'] },
      helpers: Object.fromEntries(
        Array.from({ length: count }, (_, i) => [
          `q_${i}`,
          `(2 + sin(${i === 0 ? 'h/m_1' : `q_${i - 1} + v/(m_1*w)`}))^1.7`,
        ]),
      ),
      states: { h: ['h_0', 'v'], v: ['0 m/s', `-g + k*m_1*g*q_${count - 1}`] },
      stops: fall.stops ?? {},
      signals: {},
    });
    const large = unwrap(createBatchEngine(modelOf(texts(20)), []));
    const values = valuesOf(texts(20));
    expect(runAll(large, values).endS[0]).toBeCloseTo(Math.sqrt((2 * 2) / 9.81), 11);
    const huge = createBatchEngine(modelOf(texts(400)), []);
    expect(huge.ok).toBe(false);
    if (!huge.ok) expect(huge.problems[0].message).toContain('too large');
  });

  it('calls with what does not exist are mistakes of the caller', () => {
    const model = modelOf(fall);
    const asked: Asked = { kind: 'samples', signal: 0, start: 0, interval: 1, most: 1 };
    expect(() => createBatchEngine(model, [{ ...asked, signal: 1 }])).toThrow(RangeError);
    expect(() => createBatchEngine(model, [{ ...asked, start: { column: 3 } }])).toThrow(RangeError);
    expect(() => createBatchEngine(model, [{ ...asked, most: 1.5 }])).toThrow(RangeError);
    const engine = unwrap(createBatchEngine(model, [asked]));
    expect(() => engine.run(new Float64Array(2), 1, engine.makeResult(1))).toThrow(RangeError);
  });
});
