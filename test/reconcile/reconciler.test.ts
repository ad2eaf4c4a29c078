import { readFile } from 'node:fs/promises';
import { describe, expect, it } from 'vitest';
import { createPipeline, readLab } from '../../src/lab/index.ts';
import { Cancelled, createReconciler, type Reconciliation, reconcile } from '../../src/reconcile/index.ts';
import { change, pipelineFrom, SLOPE_LAB } from '../lab/slope-lab.ts';
import { must } from '../labs/shipped-lab.ts';
import { plantTrials } from '../run/plant-trials.ts';

const slope = pipelineFrom(SLOPE_LAB);
const trials = plantTrials(slope, slope.nominal, 2);

/** All numbers of the ledgers, to the bit. */
const numbersOf = ({ ledgers, method }: Reconciliation): string =>
  JSON.stringify([
    ledgers.map(({ result: _result, ...lines }) => ({
      ...lines,
      remainder: { ...lines.remainder, closing: 0 },
    })),
    method,
  ]);

const settingOf = (name: string, value: number) => {
  const quantity = slope.lab.quantities.base.find((each) => each.name === name);
  if (quantity === undefined) throw new Error(name);
  return { quantity, value };
};

describe('a reconciler that is asked again and again', () => {
  const reconciler = must(createReconciler(slope, trials));

  it('gives the very numbers of a lab file that holds the other values', () => {
    const written = pipelineFrom(
      change(SLOPE_LAB, ['value: 250 g', 'value: 255 g'], ['value: 10 mN', 'value: 11 mN']),
    );
    const values = [settingOf('m', 0.255), settingOf('F_r', 0.011)];
    const afresh = must(reconcile(written, trials));
    expect(numbersOf(must(reconciler.reconcile({ values })))).toBe(numbersOf(afresh));
    expect(numbersOf(must(reconciler.reconcile()))).toBe(numbersOf(must(reconcile(slope, trials))));
    expect(numbersOf(must(reconciler.reconcile({ values })))).toBe(numbersOf(afresh));
  });

  it('gives the lines first, without uncertainties, and they are those of the ledger', () => {
    const values = [settingOf('F_r', 0.02)];
    const [outline] = must(reconciler.outline({ values }));
    const [ledger] = must(reconciler.reconcile({ values })).ledgers;
    expect([outline?.theory, outline?.ideal, outline?.full, outline?.measured]).toEqual([
      ledger?.theory?.value,
      ledger?.ideal.value,
      ledger?.full.value,
      ledger?.measured?.value,
    ]);
    expect(outline?.effects).toEqual(ledger?.effects.map(({ effect, share }) => ({ effect, share })));
  });

  it('takes draws in parts, as workers do them, without a bit of difference', () => {
    const options = { draws: 60, seed: 5, everyDraw: true };
    const parts = [
      [0, 17],
      [17, 40],
      [40, 60],
    ].map(([from = 0, to = 0]) => must(reconciler.drawPart(options, from, to)));
    const whole = must(reconciler.reconcile(options));
    expect(numbersOf(must(reconciler.reconcileParts(options, parts)))).toBe(numbersOf(whole));
    expect(whole.method).toMatchObject({
      kind: 'draws of the model',
      draws: 60,
      because: 'that was asked for',
    });
  });

  it('stops where it is asked to, in the middle too', () => {
    expect(() => reconciler.reconcile({ signal: { aborted: true } })).toThrow(Cancelled);
    let looks = 0;
    const signal = {
      get aborted() {
        looks += 1;
        return looks > 20;
      },
    };
    expect(() => reconciler.reconcile({ everyDraw: true, draws: 10_000, signal })).toThrow(Cancelled);
    expect(looks).toBeLessThan(40);
  });

  it('every draw through the model says the same as the quick way, within what draws can tell', () => {
    const [quick] = must(reconciler.reconcile()).ledgers;
    const [slow] = must(reconciler.reconcile({ everyDraw: true })).ledgers;
    for (const [i, { standardUncertainty }] of (slow?.effects ?? []).entries()) {
      expect(Math.abs((quick?.effects[i]?.standardUncertainty ?? 0) / standardUncertainty - 1)).toBeLessThan(
        0.05,
      );
    }
    expect(
      Math.abs((quick?.full.standardUncertainty ?? 0) / (slow?.full.standardUncertainty ?? 1) - 1),
    ).toBeLessThan(0.02);
  });
});

describe('a ledger of more than ten effects', () => {
  const names = Array.from({ length: 13 }, (_, index) => `e_${index}`);
  /** A mass on a slope with thirteen resistances, each of them a little air. */
  const text = change(
    SLOPE_LAB,
    [
      '  c:     { is: air',
      `${names.map((name, i) => `  ${name}: { value: ${i + 1}e-4 kg/m, u: ${i + 1}e-5 kg/m }\n`).join('')}  c:     { is: air`,
    ],
    [
      '  air: { off: { c: 0 kg/m } }',
      names.map((name) => `  air ${name.slice(2)}: { off: { ${name}: 0 kg/m } }`).join('\n'),
    ],
    ['c*v^2', `(c + ${names.join(' + ')})*v^2`],
  );
  const pipeline = pipelineFrom(text);

  it('takes drawn orders, says so, states the error of each share, and adds up', () => {
    const { ledgers, method } = must(reconcile(pipeline, [], { orders: 32 }));
    const [ledger] = ledgers;
    if (ledger === undefined) throw new Error('no ledger');
    expect(method.orders).toBe(32);
    const sum = ledger.effects.reduce((total, { share }) => total + share, ledger.ideal.value);
    expect(Math.abs(sum / ledger.full.value - 1)).toBeLessThan(1e-13);
    for (const { orderError, share } of ledger.effects) {
      expect(orderError).toBeGreaterThanOrEqual(0);
      expect(orderError).toBeLessThan(0.05 * Math.abs(share) + 1e-4);
    }
  });

  it('has shares in step with resistances that act alike', () => {
    const [ledger] = must(reconcile(pipeline, [], { orders: 32 })).ledgers;
    const air = (ledger?.effects ?? []).filter(({ effect }) => effect.startsWith('air'));
    const perUnit = air.map(({ share }, i) => share / (i + 1));
    for (const each of perUnit) expect(Math.abs(each / (perUnit[12] ?? 1) - 1)).toBeLessThan(0.05);
  });
});

describe('the lab of the benchmark', () => {
  it('has a ledger of six effects and eleven uncertain quantities that the quick way stands for', async () => {
    const file = new URL('../../bench/ledger/lab.yaml', import.meta.url);
    const pipeline = createPipeline(must(readLab(await readFile(file, 'utf8'), 'lab.yaml')));
    const uncertain = pipeline.lab.quantities.base.filter(({ estimate }) => estimate.standardUncertainty > 0);
    expect([pipeline.lab.effects.length, uncertain.length]).toEqual([6, 11]);
    const { method } = must(reconcile(pipeline, plantTrials(pipeline, pipeline.nominal, 1)));
    expect(method).toMatchObject({ kind: 'second-order response', orders: 'all', failed: 0 });
  });
});
