import { applyResponse, type EvaluateMany, measureResponse, type Response } from './response.ts';
import { compareColumns } from './spread.ts';

/** Draws on which the quick way is compared with the model itself. */
export const CHECK_DRAWS = 12;

/** The quick way stands where it is within this share of the uncertainty it gives, at every check. */
export const AGREEMENT = 0.2;

/** A difference below this share of a value is the rounding of a reduction, not a lack of agreement. */
const ROUNDING = 1e-10;

/** What draws of the inputs say of a function. */
export interface DrawnFunction {
  /** rows × outputs; NaN where the function fails. */
  readonly table: Float64Array;
  /** Null where a response leaves the function's domain. */
  readonly response: Response | null;
}

/**
 * Draws a function through its second-order response where that agrees with the function on a few draws, else through
 * the function at every draw.
 *
 * @param deviations rows × m
 * @param isInert    says of an input that no output can depend on it
 */
export function drawFunction(
  evaluate: EvaluateMany,
  nominal: Float64Array,
  uncertainties: Float64Array,
  outputs: number,
  isInert: (input: number) => boolean,
  deviations: Float64Array,
): DrawnFunction {
  const inputs = nominal.length;
  const rows = inputs === 0 ? 0 : deviations.length / inputs;
  const response = measureResponse(evaluate, nominal, uncertainties, outputs, isInert);
  const table = new Float64Array(rows * outputs);
  const drawn = (from: number, to: number): Float64Array => {
    const points = Float64Array.from(deviations.subarray(from * inputs, to * inputs));
    for (let i = 0; i < points.length; i++) points[i] += nominal[i % inputs];
    const values = new Float64Array((to - from) * outputs);
    const sound = new Uint8Array(to - from);
    evaluate(points, to - from, values, sound);
    for (let row = 0; row < sound.length; row++) {
      if (sound[row] === 0) values.fill(Number.NaN, row * outputs, (row + 1) * outputs);
    }
    return values;
  };
  const checked = Math.min(CHECK_DRAWS, rows);
  if (response !== null) {
    applyResponse(response, deviations, table);
    if (isAgreed(drawn(0, checked), table, outputs)) return { table, response };
  }
  for (let row = 0; row < rows; row += CHUNK) {
    table.set(drawn(row, Math.min(rows, row + CHUNK)), row * outputs);
  }
  return { table, response };
}

/** Rows worked out at a time where the function is run at every draw. */
const CHUNK = 256;

/** Whether the quick way is within a share of its own spread of the true one, for every output. */
function isAgreed(exact: Float64Array, quick: Float64Array, count: number): boolean {
  for (let output = 0; output < count; output++) {
    let missing = 0;
    let rows = 0;
    for (let index = output; index < exact.length; index += count) {
      rows += 1;
      if (Number.isNaN(exact[index])) missing += 1;
    }
    // An output that is never a number, as of a result without a formula, has nothing to agree on.
    if (missing === rows && rows > 0 && Number.isNaN(quick[output])) continue;
    if (missing > 0) return false;
    const { difference, spread } = compareColumns(exact, quick, count, output);
    // What hardly varies is all rounding.
    if (difference > AGREEMENT * spread && !(difference <= ROUNDING * Math.abs(quick[output]))) return false;
  }
  return true;
}
