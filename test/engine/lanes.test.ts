import { describe, expect, it } from 'vitest';
import { type Asked, createBatchEngine } from '../../src/engine/index.ts';
import { type ModelTexts, modelOf, unwrap, valuesOf } from '../evolve/model-from-texts.ts';
import { drawRows, readDraw, runAll } from './draws.ts';
import { drapedChain, longSwing } from './labs.ts';

const cases: readonly (readonly [string, ModelTexts, readonly Asked[], number])[] = [
  [
    'the draped chain, some of whose draws stick',
    drapedChain,
    [
      { kind: 'crossings', signal: 0, spacing: Math.PI / 10, offset: { column: 7 }, most: 200 },
      { kind: 'samples', signal: 1, start: 0.01, interval: 0.04, most: 100 },
      { kind: 'passages', signal: 0, levels: [2, 5, 5, 7.5, 11, 14], most: 20 },
    ],
    0.25,
  ],
  [
    'the long swing, whose draws turn at different times',
    longSwing,
    [
      { kind: 'samples', signal: 0, start: 0, interval: 0.05, over: 0.03, most: 100 },
      { kind: 'crossings', signal: 0, spacing: 0.3, offset: 0.5, most: 200 },
    ],
    0.1,
  ],
];

describe('every draw has the same bits', () => {
  for (const [name, texts, asked, share] of cases) {
    const model = modelOf(texts);
    const rows = drawRows(valuesOf(texts), 500, share);
    const length = model.parameterNames.length;

    it(`on 1, 2 and 4 lanes: ${name}`, () => {
      const results = ([1, 2, 4] as const).map((lanes) =>
        runAll(unwrap(createBatchEngine(model, asked, { lanes })), rows),
      );
      for (let draw = 0; draw < 500; draw++) {
        const expected = readDraw(results[0], draw, 2);
        for (const result of results) expect(readDraw(result, draw, 2)).toEqual(expected);
      }
    });

    it(`whatever its neighbours are: ${name}`, () => {
      const engine = unwrap(createBatchEngine(model, asked));
      const plain = runAll(engine, rows);
      const order = Array.from({ length: 500 }, (_, draw) => (draw * 211) % 500);
      const shuffled = new Float64Array(rows.length);
      for (const [to, from] of order.entries()) {
        shuffled.set(rows.subarray(from * length, (from + 1) * length), to * length);
      }
      const moved = runAll(engine, shuffled);
      for (const [to, from] of order.entries()) {
        expect(readDraw(moved, to, 2)).toEqual(readDraw(plain, from, 2));
      }
    });
  }

  it('and the same bytes and hash come from the same model, others from other lanes', () => {
    const make = (lanes: 2 | 4) => unwrap(createBatchEngine(modelOf(longSwing), cases[1][2], { lanes }));
    expect(make(4).bytes).toEqual(make(4).bytes);
    expect(make(4).hash).toBe(make(4).hash);
    expect(make(4).hash).not.toBe(make(2).hash);
  });
});
