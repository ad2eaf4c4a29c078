import { describe, expect, it } from 'vitest';
import { predict, STEPPERS, type StepperTable, tabulateSteps } from '../../src/run/index.ts';
import { pipelineFrom, sentencesOf } from '../lab/slope-lab.ts';
import { must, openShipped } from '../labs/shipped-lab.ts';

/** A mass that falls through thick air: smooth everywhere, known in closed form, read at one moment. */
const FALL_LAB = `benchwright: 1
title: A fall through thick air
quantities:
  g: { value: 9.81 m/s^2, u: 0.05 m/s^2 }
  k: { value: 2 1/s, u: 0.05 1/s }
model:
  start: { x: 0 m, v: 0 m/s }
  rates: { x: v, v: g - k*v }
  lasts: 1 s
instruments:
  rule: { kind: ruler, of: x }
reduction:
  each run:
    - readings: { of: rule, gives: [way] }
    - mean: { of: way, gives: fallen }
results:
  fallen: { unit: m }
`;
const FALLEN = (9.81 / 2) * (1 - (1 - Math.exp(-2)) / 2);

const stepsS = [0.04, 0.02, 0.01, 0.005];

function tables(uncertainty = 0.01): readonly StepperTable[] {
  return must(
    tabulateSteps(pipelineFrom(FALL_LAB), { stepsS, uncertainties: new Map([['fallen', uncertainty]]) }),
  );
}

function tableOf(stepper: StepperTable['stepper'], from = tables()): StepperTable {
  const found = from.find((table) => table.stepper === stepper);
  if (found === undefined) throw new Error(`no table of ${stepper}`);
  return found;
}

describe('the table of steps', () => {
  it('has every stepper against the exact result (closed form of linear drag, any mechanics textbook)', () => {
    expect(tables().map(({ stepper }) => stepper)).toEqual(STEPPERS);
    for (const { exact, rows } of tables()) {
      expect(exact).toBeCloseTo(FALLEN, 9);
      expect(rows.map(({ stepS }) => stepS)).toEqual(stepsS);
      for (const { value, error } of rows) expect(error).toBeCloseTo(value - exact, 14);
    }
  });

  it.each([
    ['forward-euler', 1],
    ['semi-implicit-euler', 1],
    ['midpoint', 2],
    ['fourth-order', 4],
  ] as const)('%s errs by the step to the power of %i in the result', (stepper, order) => {
    const { rows } = tableOf(stepper);
    const coarse = Math.abs(rows[1].error);
    const fine = Math.abs(rows[2].error);
    // Orders within 0.2; Hairer, Nørsett, Wanner, Solving Ordinary Differential Equations I, II.3.
    expect(Math.abs(Math.log2(coarse / fine) - order)).toBeLessThan(0.2);
  });

  it('of two steps of half a second is what a class works out by hand', () => {
    const whole = must(tabulateSteps(pipelineFrom(FALL_LAB), { stepsS: [0.5], uncertainties: new Map() }));
    // Two steps: v = 0, 4.905; x = 0, 0 + 0.5·4.905.
    expect(tableOf('forward-euler', whole).rows[0]?.value).toBeCloseTo(0.5 * 0.5 * 9.81, 12);
    // Semi-implicit: v = 4.905, then 4.905 + 0.5·(9.81 − 2·4.905) = 4.905; x = 0.5·4.905·2.
    expect(tableOf('semi-implicit-euler', whole).rows[0]?.value).toBeCloseTo(4.905, 12);
  });

  it('the largest good step errs by less than a tenth of the uncertainty, and all smaller ones do', () => {
    for (const { rows, largestGoodStepS } of tables(0.2)) {
      const good = rows.filter(({ stepS }) => stepS <= (largestGoodStepS ?? 0));
      for (const { error } of good) expect(Math.abs(error)).toBeLessThanOrEqual(0.02);
      const next = rows.filter(({ stepS }) => stepS > (largestGoodStepS ?? 0)).at(-1);
      if (next !== undefined) expect(Math.abs(next.error)).toBeGreaterThan(0.02);
    }
    expect(tableOf('fourth-order', tables(0.2)).largestGoodStepS).toBe(0.04);
    expect(tableOf('forward-euler', tables(1e-6)).largestGoodStepS).toBeNull();
    expect(
      tableOf(
        'forward-euler',
        must(tabulateSteps(pipelineFrom(FALL_LAB), { stepsS, uncertainties: new Map() })),
      ).largestGoodStepS,
    ).toBeNull();
  });

  it('without steps of its own begins below a twentieth of the motion and goes down by 5, 2, 1', () => {
    const [table] = must(tabulateSteps(pipelineFrom(FALL_LAB), { uncertainties: new Map() }));
    expect(table?.rows.map(({ stepS }) => stepS)).toEqual([
      0.05, 0.02, 0.01, 0.005, 0.002, 0.001, 5e-4, 2e-4, 1e-4,
    ]);
  });

  it('of the draped chain says that forward Euler needs a finer step than the midpoint (common practice, no source)', async () => {
    const { pipeline } = await openShipped('draped-chain');
    const [slope] = must(predict(pipeline)).results;
    const uncertainties = new Map([['slope', slope?.predicted.standardUncertainty ?? 0]]);
    const found = must(tabulateSteps(pipeline, { uncertainties, stepsS: [0.02, 0.01, 0.005, 0.002, 0.001] }));
    const largest = (stepper: StepperTable['stepper']) =>
      found.find((table) => table.stepper === stepper && table.result === 'slope')?.largestGoodStepS ?? 0;
    expect(largest('forward-euler')).toBeLessThan(largest('midpoint'));
    expect(largest('midpoint')).toBeLessThanOrEqual(largest('fourth-order'));
  });

  it('is for motions only', () => {
    const relation = `benchwright: 1
title: No time
quantities: { k: { value: 2 } }
model: { relation: y = k*x, over: { x: [1, 2] } }
`;
    expect(sentencesOf(tabulateSteps(pipelineFrom(relation), { uncertainties: new Map() }))).toEqual([
      'lab.yaml  The model is not a motion in time, so there are no steps to choose.',
    ]);
  });

  it('a step at which the result cannot be had tells why in its row', () => {
    const [table] = must(
      tabulateSteps(pipelineFrom(FALL_LAB.replace('2 1/s', '50 1/s')), {
        stepsS: [0.5, 0.001],
        uncertainties: new Map(),
      }),
    );
    // Twenty-five times beyond the limit of stability the numbers grow, but they are numbers.
    expect(Number.isFinite(table?.rows[0]?.value ?? Number.NaN) || table?.rows[0]?.problem !== null).toBe(
      true,
    );
  });
});
