import { baseQuantitiesBehind, type Pipeline } from '../lab/index.ts';
import type { Analysis } from './analysis.ts';
import { createMeasure } from './measured.ts';
import { applyResponse, measureResponse } from './response.ts';
import { spreadOfColumn } from './spread.ts';

/** How the measured values follow the quantities: rows × outputs of measured minus full, and each alone. */
export interface Systematic {
  /** One spread an output: what the quantities bring to the measured value. */
  readonly ofMeasured: Float64Array;
  /** One spread an output: what they bring to measured − full, the same draw in both. */
  readonly ofRemainder: Float64Array;
  /** outputs × inputs: derivative of measured − full by each uncertain quantity. */
  readonly sensitivities: Float64Array;
}

/** Reduces the trials again as the quantities vary, and holds the outcome against the model on the same draws. */
export function followMeasurement(analysis: Analysis): Systematic {
  const { pipeline, groups, outputs, model, drawn, deviations, measured } = analysis;
  const count = outputs.length;
  const inputs = model.nominal.length;
  const measure = createMeasure(pipeline, groups, outputs);
  const read = quantitiesOfReduction(pipeline);
  const hasTrials = measured.some((output) => output !== null);
  const response = hasTrials
    ? measureResponse(
        (values, out) => measure(model.baseAt(values), out),
        model.nominal,
        model.uncertainties,
        count,
        (input) => !read.has(model.uncertain[input] ?? -1),
      )
    : null;
  const measuredRows = new Float64Array(drawn.rows * count);
  const remainderRows = new Float64Array(drawn.rows * count);
  const values = new Float64Array(count);
  for (let row = 0; row < drawn.rows; row++) {
    if (response === null) values.fill(0);
    else applyResponse(response, deviations.subarray(row * inputs, (row + 1) * inputs), values);
    for (let output = 0; output < count; output++) {
      measuredRows[row * count + output] = values[output];
      remainderRows[row * count + output] = values[output] - drawn.full[row * count + output];
    }
  }
  const sensitivities = new Float64Array(count * inputs);
  for (let index = 0; index < sensitivities.length; index++) {
    sensitivities[index] = (response?.linear[index] ?? 0) - (drawn.fullResponse?.linear[index] ?? Number.NaN);
  }
  const spreads = (table: Float64Array) =>
    Float64Array.from(outputs, (_, output) => spreadOfColumn(table, count, output));
  return { ofMeasured: spreads(measuredRows), ofRemainder: spreads(remainderRows), sensitivities };
}

/** Base quantities that any step or instrument of the reduction reads: only they can move a measured value. */
function quantitiesOfReduction(pipeline: Pipeline): ReadonlySet<number> {
  const { lab } = pipeline;
  const names = [
    ...lab.instruments.flatMap((instrument) => [...instrument.quantitiesRead]),
    ...lab.eachRun.quantitiesRead,
    ...lab.acrossRuns.quantitiesRead,
  ];
  return baseQuantitiesBehind(names, lab.quantities);
}
