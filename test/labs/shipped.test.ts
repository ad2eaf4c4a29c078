import { createHash } from 'node:crypto';
import { readFile } from 'node:fs/promises';
import { describe, expect, it } from 'vitest';
import { reconcile } from '../../src/reconcile/index.ts';
import { checkDerivation, infer, predict, reduceTrials } from '../../src/run/index.ts';
import { must, openShipped, SHIPPED } from './shipped-lab.ts';

describe.each(SHIPPED)('the lab %s', (name) => {
  it('has a derivation that is true, line by line, along its ideal motion', async () => {
    const { pipeline } = await openShipped(name);
    const check = must(checkDerivation(pipeline));
    expect(check.lines.length).toBeGreaterThan(0);
    expect(check.firstFalse).toBeNull();
    expect(check.failedSettings).toBeLessThan(check.settings / 2);
  });

  it('predicts by its ideal model what its theory says, to a thousandth of the result', async () => {
    const { pipeline } = await openShipped(name);
    const [result] = must(predict(pipeline, { subset: 0 })).results;
    const theory = result?.theory?.value ?? Number.NaN;
    expect(Math.abs((result?.predicted.value ?? Number.NaN) / theory - 1)).toBeLessThan(1e-3);
  });

  it('reduces every trial that is not set aside, and says of each file which bytes it read', async () => {
    const { pipeline, trials } = await openShipped(name);
    const reduced = must(reduceTrials(pipeline, trials));
    expect(reduced.failed).toEqual([]);
    expect(reduced.runs.length + reduced.setAside.length).toBe(trials.length);
    for (const trial of trials) {
      const bytes = await readFile(new URL(`../../labs/${name}/${trial.entry.file}`, import.meta.url));
      expect(trial.sha256).toBe(createHash('sha256').update(bytes).digest('hex'));
    }
  });

  it('reconciles: the lines add up exactly and the remainder is within its uncertainty', async () => {
    const { pipeline, trials } = await openShipped(name);
    const { ledgers, main } = must(reconcile(pipeline, trials, { draws: 32 }));
    expect(main.size).toBe(pipeline.lab.results.length);
    for (const { ideal, effects, full, measured, remainder } of ledgers) {
      const scale = Math.abs(ideal.value) + Math.abs(full.value);
      const sum = effects.reduce((total, { share }) => total + share, ideal.value);
      expect(Math.abs(sum - full.value)).toBeLessThan(1e-12 * scale);
      expect(full.value + (remainder?.value ?? Number.NaN)).toBeCloseTo(measured?.value ?? Number.NaN, 12);
      expect(effects.every(({ standardUncertainty }) => standardUncertainty >= 0)).toBe(true);
      expect(Math.abs(remainder?.z ?? Number.NaN)).toBeLessThan(3);
    }
  });

  it('gives the same ledger, bit for bit, for the same seed', async () => {
    const { pipeline, trials } = await openShipped(name);
    const once = must(reconcile(pipeline, trials, { draws: 8, seed: 7 }));
    const twice = must(reconcile(pipeline, trials, { draws: 8, seed: 7 }));
    expect(JSON.stringify(twice.ledgers.map(numbersOf))).toBe(JSON.stringify(once.ledgers.map(numbersOf)));
  });

  it('has every effect change its main result', async () => {
    const { pipeline, trials } = await openShipped(name);
    const { ledgers, main } = must(reconcile(pipeline, trials, { draws: 8 }));
    const [first] = [...main.values()];
    const ledger = ledgers[first ?? -1];
    for (const { share } of ledger?.effects ?? []) expect(Math.abs(share)).toBeGreaterThan(0);
  });

  it('names cautions that defer to the school, local codes and qualified staff', async () => {
    const { pipeline } = await openShipped(name);
    const text = pipeline.lab.cautions.join(' ');
    for (const word of ['own rules', 'local codes', 'qualified staff']) expect(text).toContain(word);
  });
});

describe('inferring from the trials of the flagship', () => {
  it('keeps what the data say nothing about where it was, and names it', async () => {
    const { pipeline, trials } = await openShipped('tow-chain');
    const found = must(infer(pipeline, trials));
    const wheel = found.free.find(({ quantity }) => quantity.name === 'I');
    expect(found.uninformed.map(({ name }) => name)).toContain('I');
    expect(Math.abs(wheel?.shift ?? Number.NaN)).toBeLessThan(0.5);
    const resistance = found.free.find(({ quantity }) => quantity.name === 'F_r');
    expect(resistance?.posterior.standardUncertainty).toBeLessThan(
      resistance?.prior.standardUncertainty ?? 0,
    );
  });
});

function numbersOf(ledger: { readonly result: { readonly name: string } } & object): unknown {
  const { result, ...numbers } = ledger;
  return [result.name, numbers];
}
