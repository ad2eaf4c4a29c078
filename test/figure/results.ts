import { fitLine } from '../../src/inference/index.ts';
import type { LabResult } from '../../src/lab/index.ts';
import type { Outcome } from '../../src/problem/index.ts';
import { type Dimension, parseUnit, type Unit } from '../../src/quantity/index.ts';
import type { GapLedger } from '../../src/reconcile/index.ts';
import type { FitReport } from '../../src/reduction/index.ts';
import type { RehearsedOutput, StepperTable } from '../../src/run/index.ts';

/** Results as the layers below give them, made up here so that every number of a figure is known. */

export function goodOf<T>(outcome: Outcome<T>): T {
  if (!outcome.ok) throw new Error(outcome.problems.map(({ message }) => message).join('\n'));
  return outcome.value;
}

export function unit(text: string): Unit {
  return goodOf(parseUnit(text));
}

const squareLength: Dimension = [2, 0, 0, 0, 0, 0, 0];
const squareSpeed: Dimension = [2, 0, -2, 0, 0, 0, 0];
const perSquareTime: Dimension = [0, 0, -2, 0, 0, 0, 0];

/** Scatter without a random source: the same on every machine. */
function stray(i: number): number {
  return Math.sin(12.9898 * i) * 0.6 + Math.sin(4.1414 * i + 1) * 0.4;
}

export interface FitMaking {
  readonly count?: number;
  readonly slope?: number;
  readonly scatter?: number;
  readonly withBars?: boolean;
}

/** A line of v² against x², its uncertainty from scatter. */
export function fitReport({
  count = 24,
  slope = 2.2,
  scatter = 0.04,
  withBars = true,
}: FitMaking = {}): FitReport {
  const x = Float64Array.from({ length: count }, (_, i) => 0.04 + (0.96 * i) / (count - 1));
  const y = x.map((at, i) => -0.05 + slope * at + scatter * stray(i));
  const fit = goodOf(fitLine(x, y));
  const [intercept, slopeFound] = fit.parameters;
  const [uIntercept, uSlope] = fit.standardUncertainties;
  return {
    words: 'line of v² against x²',
    step: 'line',
    runName: 'run "a1"',
    x: { text: 'x^2', dimension: squareLength, values: x, u: null },
    y: {
      text: 'v^2',
      dimension: squareSpeed,
      values: y,
      u: withBars ? x.map((at) => 0.01 + 0.03 * at) : null,
    },
    fitted: y.map((value, i) => value - fit.residuals[i]),
    residuals: fit.residuals,
    parameters: [
      { name: 'b', value: intercept, standardUncertainty: uIntercept, dimension: squareSpeed },
      { name: 'k2', value: slopeFound, standardUncertainty: uSlope, dimension: perSquareTime },
    ],
    covariance: fit.covariance,
    degreesOfFreedom: fit.degreesOfFreedom,
    reducedChiSquare: null,
    uncertaintyFrom: 'scatter',
    statement: '',
    notes: [],
  };
}

export function labResult(name = 'k2', unitText = '1/s^2'): LabResult {
  return { name, is: '', unit: unit(unitText), scope: 'run', theory: null, place: {} };
}

const effects = [
  { effect: 'chain on the rim pulls too', share: 0.068, standardUncertainty: 0.0014 },
  { effect: 'wheel turns too', share: -0.0139, standardUncertainty: 0.0015 },
  { effect: 'rolling resistance', share: -0.063, standardUncertainty: 0.014 },
  { effect: 'a mark is seen early', share: -0.00031, standardUncertainty: 0.000052 },
] as const;

export function gapLedger(change: Partial<GapLedger> = {}): GapLedger {
  const full = effects.reduce((sum, { share }) => sum + share, 2.266);
  const measured = 2.2176;
  return {
    result: labResult(),
    group: 'L = 1.2 m',
    theory: { value: 2.2664, standardUncertainty: 0.0021 },
    reduction: [
      { step: 'motion from edges of wheel gate', shift: -0.0009 },
      { step: 'keep x > 0.20 m', shift: 0.0001 },
    ],
    ideal: { value: 2.266, standardUncertainty: 0.0021 },
    effects,
    full: { value: full, standardUncertainty: 0.015 },
    measured: {
      value: measured,
      standardUncertainty: 0.0052,
      n: 3,
      fromScatter: 0.005,
      fromQuantities: 0.0014,
      interval: null,
    },
    remainder: {
      value: measured - full,
      standardUncertainty: 0.016,
      z: (measured - full) / 0.016,
      degreesOfFreedom: 20,
      probability: 0.02,
      verdict: 'doubtful',
      closing: [],
    },
    ...change,
  };
}

/** 100 values, evenly spread over the quantiles of a triangle between 2.18 and 2.26. */
export function rehearsedOutput(): RehearsedOutput {
  const values = Float64Array.from({ length: 100 }, (_, i) => {
    const p = (i + 0.5) / 100;
    return 2.18 + 0.08 * (p < 0.5 ? Math.sqrt(p / 2) : 1 - Math.sqrt((1 - p) / 2));
  });
  return {
    output: { result: labResult(), group: 0 },
    mean: 2.22,
    spread: 0.0163,
    low: values[2],
    high: values[97],
    reported: 0.01,
    singleRun: 0.012,
    values,
  };
}

export function stepperTables(): readonly StepperTable[] {
  const steps = [0.05, 0.02, 0.01, 0.005, 0.002, 0.001];
  const table = (
    stepper: StepperTable['stepper'],
    factor: number,
    order: number,
    good: number | null,
  ): StepperTable => ({
    stepper,
    result: 'k2',
    exact: 2.2,
    rows: steps.map((stepS) => ({
      stepS,
      value: 2.2 + factor * stepS ** order,
      error: factor * stepS ** order,
      problem: null,
    })),
    largestGoodStepS: good,
  });
  return [
    table('forward-euler', 3, 1, null),
    table('semi-implicit-euler', -0.5, 1, 0.001),
    table('midpoint', 2, 2, 0.01),
    table('fourth-order', 80, 4, 0.05),
  ];
}
