import { createHash } from 'node:crypto';
import { readFile, writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import type * as z from 'zod';
import * as forms from './json-forms.ts';
import { makeFolder, run, shippedLabs } from './run-in-memory.ts';

const folder = await makeFolder();

async function documentOf<Form extends z.ZodType>(
  form: Form,
  args: readonly string[],
  code = 0,
): Promise<z.infer<Form>> {
  const ran = await run([...args, '--json'], { folder });
  expect(ran.code, ran.err).toBe(code);
  return form.parse(JSON.parse(ran.out));
}

describe('every verb prints one JSON document of the documented form', () => {
  it('check: what was read, each line of the derivation, what each file was taken for', async () => {
    const { derivation, trials, quantities, problems } = await documentOf(forms.checkForm, [
      'check',
      'tow-chain',
    ]);
    expect(derivation?.map((line) => line.true)).toEqual([true, true, true, true]);
    expect(trials).toHaveLength(9);
    expect(quantities.L).toMatchObject({ value: 1.2, unit: 'm' });
    expect(problems).toEqual([]);
  });

  it('predict: in the unit of the result, the state where a condition fails in SI', async () => {
    const ideal = await documentOf(forms.predictForm, ['predict', 'draped-chain', '--ideal']);
    // The chain lifts off the ideal rim at L/(2√2) (common practice, no source), here 1.55 m / 2.83 = 0.548 m.
    const lifts = ideal.holds['the chain presses on the rim']?.fails_at;
    expect(lifts?.x).toBeCloseTo(1.55 / (2 * Math.SQRT2), 4);
    // The slope of speed against displacement, √(2g/L); v follows x·√(2g/L) up to (x₀/x)²/2, 0.1 % at the window's start.
    expect(ideal.results.slope?.value).toBeCloseTo(ideal.theory.slope?.value ?? Number.NaN, 2);
    expect(ideal.results.b).toMatchObject({ unit: 'mm/s' });
    expect((ideal.results.b?.value ?? Number.NaN) / 1000).toBeCloseTo(ideal.results.b?.si ?? Number.NaN, 12);
  });

  it('predict: one effect off, another value set', async () => {
    const args = ['predict', 'tow-chain', '--without', 'rolling resistance', '--set', 'L=1.4m'];
    const { effects_off, set } = await documentOf(forms.predictForm, args);
    expect(effects_off).toEqual(['rolling resistance']);
    expect(set).toEqual({ L: { value: 1.4, unit: 'm', si: 1.4 } });
  });

  it('steps: errors that shrink with the step', async () => {
    const { results, uncertainty_from } = await documentOf(forms.stepsForm, [
      'steps',
      'tow-chain',
      '--step',
      '1ms,20ms',
    ]);
    expect(uncertainty_from).toBe('measured');
    const euler = results.k2?.steppers.find(({ stepper }) => stepper === 'forward-euler');
    const [coarse, fine] = euler?.steps ?? [];
    expect([coarse?.step_s, fine?.step_s]).toEqual([0.02, 0.001]);
    // First order: an error in step with the step, 20 times as large here.
    expect((coarse?.error ?? Number.NaN) / (fine?.error ?? Number.NaN)).toBeGreaterThan(15);
    expect((coarse?.error ?? Number.NaN) / (fine?.error ?? Number.NaN)).toBeLessThan(25);
  });

  it('rehearse: the same seed gives the same numbers, another seed others', async () => {
    const rehearse = (seed: string) =>
      documentOf(forms.rehearseForm, ['rehearse', 'tow-chain', '--repeats', '3', '--seed', seed]);
    const [once, again, other] = [await rehearse('7'), await rehearse('7'), await rehearse('8')];
    expect(again).toEqual(once);
    expect(other.results).not.toEqual(once.results);
    expect(once.results.map(({ setting }) => setting)).toEqual(
      Array.from({ length: 2 }, () => ['L = 0.9 m', 'L = 1.2 m', 'L = 1.5 m']).flat(),
    );
  });

  it('reduce: every run with its fits, every file with its SHA-256', async () => {
    const { runs, digests } = await documentOf(forms.reduceForm, ['reduce', 'tow-chain']);
    expect(runs).toHaveLength(9);
    for (const [file, sha256] of Object.entries(digests)) {
      const bytes = await readFile(join(shippedLabs, 'tow-chain', file));
      expect(sha256).toBe(createHash('sha256').update(bytes).digest('hex'));
    }
  });

  it('reconcile: steps of the reduction only where they shift a result by more than a tenth of its uncertainty', async () => {
    const { results } = await documentOf(forms.reconcileForm, ['reconcile', 'draped-chain', '--draws', '24']);
    const { slope, b } = results;
    expect(slope?.reduction.map(({ step }) => step)).toEqual(['motion from edges of wheel gate']);
    const shift = Math.abs(slope?.reduction[0]?.shift ?? Number.NaN);
    expect(shift).toBeGreaterThan((slope?.measured?.u ?? Number.NaN) / 10);
    expect(b?.reduction).toEqual([]);
  });

  it('reconcile: lines that add up, in every setting', async () => {
    const { results, settings } = await documentOf(forms.reconcileForm, [
      'reconcile',
      'draped-chain',
      '--draws',
      '50',
    ]);
    expect(Object.keys(results)).toEqual(['slope', 'b']);
    expect(settings.map(({ label }) => label)).toEqual(['as given']);
    for (const { ideal, effects, full, measured, remainder } of Object.values(results)) {
      const shares = effects.reduce((sum, { share }) => sum + share, 0);
      expect(ideal + shares).toBeCloseTo(full, 9);
      expect(full + (remainder?.value ?? Number.NaN)).toBeCloseTo(measured?.value ?? Number.NaN, 9);
      expect(remainder?.z).toBeCloseTo((remainder?.value ?? Number.NaN) / (remainder?.u ?? Number.NaN), 9);
    }
  });

  it('infer: what the trials ask for', async () => {
    const { free, correlations } = await documentOf(forms.inferForm, [
      'infer',
      'tow-chain',
      '--free',
      'F_r,I',
    ]);
    expect(free.map(({ quantity }) => quantity)).toEqual(['F_r', 'I']);
    expect(correlations.map((row, index) => row[index])).toEqual([
      expect.closeTo(1, 9),
      expect.closeTo(1, 9),
    ]);
    for (const { prior, posterior } of free)
      expect(posterior.u ?? Number.NaN).toBeLessThanOrEqual((prior.u ?? Number.NaN) * 1.001);
  });

  it('quantities: each with its budget, linear or drawn', async () => {
    const { quantities } = await documentOf(forms.quantitiesForm, ['quantities', 'tow-chain']);
    // m_c = lambda·L: relative variances add (JCGM 100, 5.1.6).
    const relative = ({ value, u }: { value: number | null; u: number | null }) =>
      (u ?? Number.NaN) / (value ?? Number.NaN);
    const { m_c, L, lambda } = quantities;
    if (m_c === undefined || L === undefined || lambda === undefined)
      throw new Error('the lab has lost a quantity');
    expect(relative(m_c)).toBeCloseTo(Math.hypot(relative(L), relative(lambda)), 9);
    expect(m_c.budget.reduce((sum, { share }) => sum + (share ?? Number.NaN), 0)).toBeCloseTo(1, 9);
    const drawn = await documentOf(forms.quantitiesForm, [
      'quantities',
      'tow-chain',
      '--monte-carlo',
      '2000',
    ]);
    expect(drawn.method).toMatchObject({ kind: 'draws', draws: 2000 });
  });

  it('fit: a line through four readings that lie on it', async () => {
    await writeFile(join(folder, 'line.csv'), 'x,y\n1,5\n2,7\n3,9\n4,11\n');
    const { parameters, readings } = await documentOf(forms.fitForm, [
      'fit',
      'line.csv',
      '--of',
      'y = a + b*x',
    ]);
    expect(parameters.a?.value).toBeCloseTo(3, 9);
    expect(parameters.b?.value).toBeCloseTo(2, 9);
    expect(readings).toBe(4);
  });

  it('new: what was written', async () => {
    const { files, from } = await documentOf(forms.newForm, ['new', 'from-json', '--from', 'long-swing']);
    expect(from).toBe('long-swing');
    expect(files).toContain('lab.yaml');
  });

  it('problems: also for what was not understood, and then in words on the other stream', async () => {
    const ran = await run(['reconcil', 'tow-chain', '--json'], { folder });
    expect(ran.code).toBe(2);
    const { problems } = forms.problemsForm.parse(JSON.parse(ran.out));
    expect(problems.map(({ code, try_this }) => [code, try_this])).toEqual([
      ['usage', 'Did you mean "reconcile"?'],
    ]);
    expect(ran.err).toContain('"reconcil" is not a verb of benchwright. Did you mean "reconcile"?');
  });
});
