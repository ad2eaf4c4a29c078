import { baseQuantitiesBehind, type Pipeline } from '../lab/index.ts';
import type { Analysis } from './analysis.ts';
import { AGREEMENT, CHECK_DRAWS } from './draw-model.ts';
import { createMeasure } from './measured.ts';
import { applyResponse, type Evaluate, measureResponse, type Response } from './response.ts';
import { compareColumns, spreadOfColumn } from './spread.ts';

/** How the measured values follow the quantities: rows × outputs of measured minus full, and each alone. */
export interface Systematic {
  /** One spread an output: what the quantities bring to the measured value. */
  readonly ofMeasured: Float64Array;
  /** One spread an output: what they bring to measured − full, the same draw in both. */
  readonly ofRemainder: Float64Array;
  /** rows × outputs: how far the measured value would be off if the quantities were those of the draw. */
  readonly measuredDeviations: Float64Array;
  /** The same for measured − full. */
  readonly remainderDeviations: Float64Array;
  /** outputs × inputs: derivative of measured − full by each uncertain quantity. */
  readonly sensitivities: Float64Array;
}

/**
 * Reduces the trials again as the quantities vary, and holds the outcome against the model on the same draws.
 *
 * As with the model, the second-order response stands where it agrees with the reduction itself; else the reduction
 * is run at every draw. A draw at which it fails counts for nothing.
 */
export function followMeasurement(analysis: Analysis): Systematic {
  const { pipeline, groups, outputs, model, drawn, measured } = analysis;
  const count = outputs.length;
  const inputs = model.nominal.length;
  const hasTrials = measured.some((output) => output !== null);
  const read = hasTrials ? quantitiesOfReduction(pipeline) : new Set<number>();
  const measure = createMeasure(pipeline, groups, outputs);
  const evaluate = (values: Float64Array, out: Float64Array) => measure(model.baseAt(values), out);
  const response = hasTrials
    ? measureResponse(
        evaluate,
        model.nominal,
        model.uncertainties,
        count,
        (input) => !read.has(model.uncertain[input] ?? -1),
      )
    : null;
  const measuredRows = drawMeasured(analysis, response, hasTrials ? evaluate : null);
  const remainderRows = measuredRows.map((value, index) => value - drawn.full[index]);
  const sensitivities = new Float64Array(count * inputs);
  for (let index = 0; index < sensitivities.length; index++) {
    sensitivities[index] = (response?.linear[index] ?? 0) - (drawn.fullResponse?.linear[index] ?? Number.NaN);
  }
  const spreads = (table: Float64Array) =>
    Float64Array.from(outputs, (_, output) => spreadOfColumn(table, count, output));
  const last = model.effects === 0 ? 0 : 2 ** model.effects - 1;
  const measuredDeviations = measuredRows.map(
    (value, index) => value - (measured[index % count]?.value ?? Number.NaN),
  );
  const remainderDeviations = measuredDeviations.map(
    (deviation, index) => deviation - (drawn.full[index] - analysis.subsets[last * count + (index % count)]),
  );
  return {
    ofMeasured: spreads(measuredRows),
    ofRemainder: spreads(remainderRows),
    measuredDeviations,
    remainderDeviations,
    sensitivities,
  };
}

/** The measured outputs at every draw, rows × outputs: by the response where it stands, else by the reduction itself. */
function drawMeasured(
  { outputs, drawn, deviations, model }: Analysis,
  response: Response | null,
  evaluate: Evaluate | null,
): Float64Array {
  const count = outputs.length;
  const inputs = model.nominal.length;
  const table = new Float64Array(drawn.rows * count);
  if (evaluate === null) return table;
  const rowOf = (row: number) => table.subarray(row * count, (row + 1) * count);
  const deviationsOf = (row: number) => deviations.subarray(row * inputs, (row + 1) * inputs);
  const point = new Float64Array(inputs);
  const reduceAt = (row: number, out: Float64Array) => {
    const deviation = deviationsOf(row);
    for (let input = 0; input < inputs; input++) point[input] = model.nominal[input] + deviation[input];
    if (!evaluate(point, out)) out.fill(Number.NaN);
  };
  if (response !== null) {
    for (let row = 0; row < drawn.rows; row++) applyResponse(response, deviationsOf(row), rowOf(row));
    const checked = new Float64Array(Math.min(CHECK_DRAWS, drawn.rows) * count);
    for (let row = 0; row * count < checked.length; row++)
      reduceAt(row, checked.subarray(row * count, (row + 1) * count));
    if (isAgreed(checked, table, count)) return table;
  }
  for (let row = 0; row < drawn.rows; row++) reduceAt(row, rowOf(row));
  return table;
}

/** Whether the quick way is within a share of its own spread of the true one, for every output. */
function isAgreed(exact: Float64Array, quick: Float64Array, count: number): boolean {
  if (exact.some(Number.isNaN)) return false;
  for (let output = 0; output < count; output++) {
    const { difference, spread } = compareColumns(exact, quick, count, output);
    if (difference > AGREEMENT * spread) return false;
  }
  return true;
}

/** Base quantities that any step or instrument of the reduction reads: only they can move a measured value. */
function quantitiesOfReduction(pipeline: Pipeline): ReadonlySet<number> {
  const { lab } = pipeline;
  const names = [
    ...lab.instruments.flatMap((instrument) => [...instrument.quantitiesRead]),
    ...lab.eachRun.quantitiesRead,
    ...lab.acrossRuns.quantitiesRead,
    ...(lab.acrossRuns.steps.length === 0 ? [] : lab.varied.map(({ name }) => name)),
  ];
  return baseQuantitiesBehind(names, lab.quantities);
}
