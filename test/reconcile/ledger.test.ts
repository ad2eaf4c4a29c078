import { describe, expect, it } from 'vitest';
import type { Pipeline, TrialRun } from '../../src/lab/index.ts';
import { Cancelled, type GapLedger, reconcile, sayVerdict } from '../../src/reconcile/index.ts';
import { change, pipelineFrom, sentencesOf } from '../lab/slope-lab.ts';
import { must } from '../labs/shipped-lab.ts';
import { drawTruth, plantTrials } from '../run/plant-trials.ts';

/**
 * A lab that is linear in everything: the height of a line, raised by two effects, read with a ruler.
 * Every line of its ledger is a sum that can be written down.
 */
const SUM_LAB = `benchwright: 1
title: A sum
quantities:
  B:  { value: 10 m, u: 0.30 m }
  e1: { value: 2 m, u: 0.20 m }
  e2: { value: -1 m, u: 0.10 m }
  k:  { is: what the class multiplies its readings by, value: 1, u: 0.01 }
effects:
  first:  { off: { e1: 0 m } }
  second: { off: { e2: 0 m } }
model:
  relation: y = B + e1 + 3*e2 + 0*x
  over: { x: [0 m, 1 m, 2 m, 3 m] }
instruments:
  rule: { kind: ruler, of: y, spread: 400 mm }
reduction:
  each run:
    - readings: { of: rule, gives: [x_r, y_r] }
    - mean: { of: k*y_r, gives: h }
results: { h: { unit: m, theory: B } }
plan: { repeats: 4 }
`;

const truthOf = ({ lab, nominal }: Pipeline, values: Readonly<Record<string, number>>): Float64Array => {
  const truth = Float64Array.from(nominal);
  for (const [name, value] of Object.entries(values))
    truth[lab.quantities.byName.get(name)?.index ?? -1] = value;
  return truth;
};

function firstLedger(
  text: string,
  truth: Readonly<Record<string, number>> | null,
  seed = 1,
  draws = 1000,
): GapLedger {
  const pipeline = pipelineFrom(text);
  const trials = truth === null ? [] : plantTrials(pipeline, truthOf(pipeline, truth), seed);
  const [ledger] = must(reconcile(pipeline, trials, { draws })).ledgers;
  return ledger;
}

/** 1000 draws know a standard deviation to 2.2 %, quasi-random ones better. */
function expectNear(found: number | undefined, expected: number, share = 0.03): void {
  expect(Math.abs((found ?? Number.NaN) / expected - 1)).toBeLessThan(share);
}

describe('the ledger of a lab that is linear in effects and quantities', () => {
  const ledger = firstLedger(SUM_LAB, {});

  it('has theory, ideal, shares and full model as the sum says', () => {
    expect(ledger.theory?.value).toBe(10);
    expect(ledger.ideal.value).toBeCloseTo(10, 12);
    expect(ledger.effects.map(({ effect, share }) => [effect, Number(share.toFixed(12))])).toEqual([
      ['first', 2],
      ['second', -3],
    ]);
    expect(ledger.full.value).toBeCloseTo(9, 12);
  });

  it('adds up exactly: ideal + shares = full, full + remainder = measured', () => {
    const sum = ledger.effects.reduce((total, { share }) => total + share, ledger.ideal.value);
    expect(Math.abs(sum - ledger.full.value)).toBeLessThanOrEqual(4 * Number.EPSILON * 10);
    expect(ledger.full.value + (ledger.remainder?.value ?? 0)).toBe(ledger.measured?.value);
  });

  it('has the uncertainties of linear propagation (JCGM 100, 5.1.2)', () => {
    expectNear(ledger.theory?.standardUncertainty, 0.3);
    // The readings are multiplied by k on both sides.
    expectNear(ledger.ideal.standardUncertainty, Math.hypot(0.3, 10 * 0.01));
    expectNear(ledger.effects[0]?.standardUncertainty, Math.hypot(0.2, 2 * 0.01));
    expectNear(ledger.effects[1]?.standardUncertainty, Math.hypot(0.3, 3 * 0.01));
    expectNear(ledger.full.standardUncertainty, Math.hypot(0.3, 0.2, 0.3, 9 * 0.01));
    const { measured } = ledger;
    if (measured === null) throw new Error('nothing was measured');
    const { fromScatter, fromQuantities, standardUncertainty, value } = measured;
    expectNear(fromQuantities, value * 0.01);
    expect(standardUncertainty).toBeCloseTo(Math.hypot(fromScatter, fromQuantities), 12);
  });

  it('lets what moves measured and model alike cancel from the remainder', () => {
    const { remainder, measured } = ledger;
    // k multiplies both: of its uncertainty only the remainder's own percent is left.
    expectNear(
      remainder?.standardUncertainty,
      Math.hypot(measured?.fromScatter ?? 0, Math.hypot(0.3, 0.2, 0.3)),
    );
    expect(remainder?.z).toBeCloseTo((remainder?.value ?? 0) / (remainder?.standardUncertainty ?? 0), 12);
  });

  it('takes correlations of the quantities along', () => {
    const text = `${SUM_LAB}correlations: [{ between: [B, e1], is: -0.8 }]\n`;
    const { full } = firstLedger(text, null);
    expectNear(
      full.standardUncertainty,
      Math.sqrt(0.3 ** 2 + 0.2 ** 2 - 2 * 0.8 * 0.3 * 0.2 + 0.3 ** 2 + 0.09 ** 2),
    );
  });

  it('without trials has no measured value and no remainder', () => {
    const { measured, remainder } = firstLedger(SUM_LAB, null);
    expect([measured, remainder]).toEqual([null, null]);
  });

  it('is the same bit for bit for the same seed, and another for another', () => {
    const pipeline = pipelineFrom(SUM_LAB);
    const trials = plantTrials(pipeline, pipeline.nominal, 1);
    const bits = (seed: number) => {
      const [found] = must(reconcile(pipeline, trials, { seed })).ledgers;
      return JSON.stringify([
        found?.ideal,
        found?.effects,
        found?.full,
        found?.measured,
        found?.remainder?.value,
        found?.remainder?.standardUncertainty,
      ]);
    };
    expect(bits(5)).toBe(bits(5));
    expect(bits(5)).not.toBe(bits(6));
  });
});

describe('effects that act on one another', () => {
  it('share what they do together half and half', () => {
    const text = change(
      SUM_LAB,
      ['y = B + e1 + 3*e2 + 0*x', 'y = B*(1 + e1)*(1 + e2) + 0*x'],
      ['value: 2 m, u: 0.20 m', 'value: 0.2'],
      ['value: -1 m, u: 0.10 m', 'value: 0.1'],
      ['e1: 0 m', 'e1: 0'],
      ['e2: 0 m', 'e2: 0'],
    );
    const { effects } = firstLedger(text, null);
    expect(effects[0]?.share).toBeCloseTo(10 * (0.2 + 0.01), 10);
    expect(effects[1]?.share).toBeCloseTo(10 * (0.1 + 0.01), 10);
  });
});

describe('the remainder is judged', () => {
  /** A lab whose only uncertainty is that of B, so that a planted truth of B + z·u leaves a remainder of z. */
  const quiet = change(
    SUM_LAB,
    [', u: 0.20 m', ''],
    [', u: 0.10 m', ''],
    [', u: 0.01', ''],
    [', spread: 400 mm', ''],
  );

  it.each([
    [1.9, 'explained'],
    [2.1, 'doubtful'],
    [2.9, 'doubtful'],
    [3.1, 'unexplained'],
    [-3.1, 'unexplained'],
  ] as const)('%f standard uncertainties are %s', (z, verdict) => {
    const { remainder } = firstLedger(quiet, { B: 10 + z * 0.3 });
    // The spread of 1000 draws is within 1 % of 0.3 m.
    expect(remainder?.z).toBeCloseTo(z, 1);
    expect(remainder?.verdict).toBe(verdict);
  });

  it('by Student’s distribution where few runs scatter; of two runs it is Cauchy’s', () => {
    const pipeline = pipelineFrom(
      change(quiet, [', u: 0.30 m', ''], ['of: y }', 'of: y, spread: 1 mm }'], ['repeats: 4', 'repeats: 2']),
    );
    const trials = plantTrials(pipeline, pipeline.nominal, 4);
    const [{ remainder }] = must(reconcile(pipeline, trials)).ledgers;
    expect(remainder?.degreesOfFreedom).toBe(1);
    const z = Math.abs(remainder?.z ?? 0);
    expect(remainder?.probability).toBeCloseTo(1 - (2 / Math.PI) * Math.atan(z), 9);
  });

  it('by the resolution where all runs show the same reading (δ/√12, not refined by repeating; JCGM 100, F.2.2.1)', () => {
    const coarse = change(
      quiet,
      [', u: 0.30 m', ''],
      ['of: y }', 'of: y, division: 1 m }'],
      ['over: { x: [0 m, 1 m, 2 m, 3 m] }', 'over: { x: [0 m] }'],
    );
    const { measured, remainder } = firstLedger(coarse, { B: 10.3 });
    expect(measured?.value).toBe(9);
    expect(measured?.standardUncertainty).toBeCloseTo(1 / Math.sqrt(12), 9);
    expect(remainder?.verdict).toBe('explained');
  });

  it('not at all where no uncertainty is known', () => {
    const exact = change(quiet, [', u: 0.30 m', '']);
    const { remainder, ideal } = firstLedger(exact, { B: 11 });
    expect(ideal.standardUncertainty).toBe(0);
    expect(remainder?.value).toBeCloseTo(1, 12);
    expect(remainder?.verdict).toBe('unknown');
    expect(sayVerdict('unknown')).toMatch(/no uncertainty/);
  });

  it('as often doubtful as chance makes it: 5 % of schools whose apparatus is as stated', () => {
    const pipeline = pipelineFrom(SUM_LAB);
    const schools = 400;
    let doubtful = 0;
    for (let school = 0; school < schools; school++) {
      const trials = plantTrials(pipeline, drawTruth(pipeline, 500 + school), school);
      const [{ remainder }] = must(reconcile(pipeline, trials, { draws: 200 })).ledgers;
      if ((remainder?.probability ?? 0) < 0.05) doubtful += 1;
    }
    // 400 schools know 5 % to 1.1 %.
    expect(Math.abs(doubtful / schools - 0.05)).toBeLessThan(3 * 0.011);
  });
});

describe('what would close the remainder', () => {
  const curved = change(SUM_LAB, ['y = B + e1 + 3*e2 + 0*x', 'y = B + e1 + e1*e1/(4*B) + 3*e2 + 0*x']);

  /** Measured and full with one quantity at another value, everything else as the author has it. */
  function remainderWith(
    pipeline: Pipeline,
    trials: readonly TrialRun[],
    name: string,
    value: number,
  ): number {
    const base = truthOf(pipeline, { [name]: value });
    const values = pipeline.values(base);
    const meanOf = (runs: readonly TrialRun['readings'][]) =>
      runs.reduce(
        (sum, readings) =>
          sum + (must(pipeline.reduce(readings, values)).scalars.get('h')?.value ?? Number.NaN),
        0,
      ) / runs.length;
    return (
      meanOf(trials.map(({ readings }) => readings)) - meanOf([must(pipeline.simulate(values)).readings])
    );
  }

  it('does so when it is put in, to second order in the change', () => {
    const pipeline = pipelineFrom(curved);
    const trials = plantTrials(pipeline, truthOf(pipeline, { B: 10.4, e1: 2.2 }), 2);
    const [{ remainder }] = must(reconcile(pipeline, trials)).ledgers;
    const before = remainder?.value ?? Number.NaN;
    const closing = remainder?.closing ?? [];
    expect(closing.map(({ quantity }) => quantity.name).sort()).toEqual(['B', 'e1', 'e2']);
    for (const { quantity, needed, inUncertainties, plausible } of closing) {
      const after = remainderWith(pipeline, trials, quantity.name, needed);
      const change = (needed - quantity.estimate.value) / quantity.estimate.value;
      expect(Math.abs(after / before)).toBeLessThan(Math.abs(change) + 1e-9);
      expect(inUncertainties).toBeCloseTo(
        (needed - quantity.estimate.value) / quantity.estimate.standardUncertainty,
        9,
      );
      expect(plausible).toBe(Math.abs(inUncertainties) <= 2);
    }
    const distances = closing.map(({ inUncertainties }) => Math.abs(inUncertainties));
    expect(distances).toEqual([...distances].sort((a, b) => a - b));
  });

  it('names only what can: k moves measured and model alike and closes nothing', () => {
    const { remainder } = firstLedger(SUM_LAB, { B: 10.9 });
    expect(remainder?.closing.map(({ quantity }) => quantity.name)).not.toContain('k');
  });
});

describe('where the second-order response does not stand', () => {
  it('the model itself is drawn, and the ledger says why', () => {
    const jumping = change(SUM_LAB, [
      'y = B + e1 + 3*e2 + 0*x',
      'y = B + e1 + if(B > 10.1 m, 3, 2)*e2 + 0*x',
    ]);
    const { method, ledgers } = must(reconcile(pipelineFrom(jumping), [], { draws: 400 }));
    expect(method.kind).toBe('draws of the model');
    expect(method.because).toBe('the second-order response disagrees with the model');
    expect(method.draws).toBe(400);
    // The second effect is −2 m or −3 m, as B is below or above 10.1 m: below in 63 % of the draws.
    const below = 0.6306;
    const jump = Math.sqrt(below * (1 - below));
    const slope = Math.sqrt(below * (2 * 0.1) ** 2 + (1 - below) * (3 * 0.1) ** 2);
    expectNear(ledgers[0]?.effects[1]?.standardUncertainty, Math.hypot(jump, slope, 2 * 0.01), 0.05);
  });

  it('draws that leave the domain of the model are counted, and the ledger stands on the others', () => {
    const narrow = change(
      SUM_LAB,
      ['y = B + e1 + 3*e2 + 0*x', 'y = e1 + 3*e2 + 0*x + sqrt((B - b_0)*B)'],
      ['  k:  {', '  b_0: { value: 9.8 m }\n  k:  {'],
    );
    const { method, ledgers } = must(reconcile(pipelineFrom(narrow), [], { draws: 400 }));
    expect(method.kind).toBe('draws of the model');
    // B is below 9.8 m in 25 % of the draws.
    expect(method.failed / method.draws).toBeCloseTo(0.2525, 1);
    expect(ledgers[0]?.full.standardUncertainty).toBeGreaterThan(0.3);
  });

  it('is checked on the measured side too', () => {
    const text = change(SUM_LAB, ['of: k*y_r', 'of: "if(k > 1.004, 1.1, 1)*y_r"']);
    const { measured } = firstLedger(text, {});
    // A step of 10 % that 34 % of the draws take; central differences over one standard uncertainty see 5 %/u.
    expectNear(measured?.fromQuantities, (measured?.value ?? 0) * 0.1 * Math.sqrt(0.3446 * 0.6554), 0.05);
  });
});

describe('what cannot be reconciled', () => {
  it('says so: no results, a model that fails', () => {
    const noResults = change(SUM_LAB, ['results: { h: { unit: m, theory: B } }', 'results: {}']);
    expect(sentencesOf(reconcile(pipelineFrom(noResults), []))).toEqual([
      'lab.yaml  The lab names no results, so there is nothing to compare. Add "results" to the lab file.',
    ]);
    const dividing = change(SUM_LAB, ['e1 + 3*e2 + 0*x', '10*e1*e1/e1 + 3*e2 + 0*x']);
    expect(sentencesOf(reconcile(pipelineFrom(dividing), []))).toEqual([
      expect.stringMatching(/finite number.* This is without "first" and "second"\./),
    ]);
  });

  it('stops when it is asked to', () => {
    expect(() => reconcile(pipelineFrom(SUM_LAB), [], { signal: { aborted: true } })).toThrow(Cancelled);
  });
});
