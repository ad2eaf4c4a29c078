import type { Analysis } from './analysis.ts';
import { spreadOfColumn } from './spread.ts';

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
  const { outputs, model, drawn, drawMeasured, deviations, measured, subsets } = analysis;
  const count = outputs.length;
  const inputs = model.nominal.length;
  const found = drawMeasured(deviations.subarray(0, drawn.rows * inputs));
  const measuredRows = found?.table ?? new Float64Array(drawn.rows * count);
  const remainderRows = measuredRows.map((value, index) => value - drawn.full[index]);
  const sensitivities = new Float64Array(count * inputs);
  const linear = found?.response?.linear;
  for (let index = 0; index < sensitivities.length; index++) {
    sensitivities[index] = (linear?.[index] ?? 0) - (drawn.fullResponse?.linear[index] ?? Number.NaN);
  }
  const spreads = (table: Float64Array) =>
    Float64Array.from(outputs, (_, output) => spreadOfColumn(table, count, output));
  const last = subsets.length - count;
  const measuredDeviations = measuredRows.map(
    (value, index) => value - (measured[index % count]?.value ?? Number.NaN),
  );
  const remainderDeviations = measuredDeviations.map(
    (deviation, index) => deviation - (drawn.full[index] - subsets[last + (index % count)]),
  );
  return {
    ofMeasured: spreads(measuredRows),
    ofRemainder: spreads(remainderRows),
    measuredDeviations,
    remainderDeviations,
    sensitivities,
  };
}
