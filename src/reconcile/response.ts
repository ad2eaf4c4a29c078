/**
 * How outputs answer to small changes of uncertain inputs, to second order and without cross terms.
 *
 * f(q + δ) ≈ centre + Σⱼ (linearⱼ δⱼ + quadraticⱼ δⱼ²), each row by central differences with one standard
 * uncertainty as step: wide enough that the integrator's own noise does not enter, narrow enough to stay local.
 */
export interface Response {
  readonly outputs: number;
  readonly inputs: number;
  /** One value an output. */
  readonly centre: Float64Array;
  /** outputs × inputs, row-major. */
  readonly linear: Float64Array;
  /** outputs × inputs, row-major. */
  readonly quadratic: Float64Array;
}

/**
 * Computes outputs at many inputs.
 *
 * @param inputs  count × m
 * @param outputs receives count × outputs
 * @param sound   receives 1 where the inputs are in the function's domain, else 0
 */
export type EvaluateMany = (
  inputs: Float64Array,
  count: number,
  outputs: Float64Array,
  sound: Uint8Array,
) => void;

/** No response where there is nothing to respond. */
export function emptyResponse(outputs: number, inputs: number): Response {
  const length = outputs * inputs;
  return {
    outputs,
    inputs,
    centre: new Float64Array(outputs),
    linear: new Float64Array(length),
    quadratic: new Float64Array(length),
  };
}

/**
 * Writes the inputs at which a function must be known for its response: the centre, then one step up and one step
 * down for each input that is uncertain and not inert.
 *
 * @param points receives up to 2m + 1 rows of m
 * @returns the number of rows
 */
export function putResponsePoints(
  centre: Float64Array,
  steps: Float64Array,
  isInert: (input: number) => boolean,
  points: Float64Array,
): number {
  const inputs = centre.length;
  points.set(centre);
  let count = 1;
  for (let input = 0; input < inputs; input++) {
    if (steps[input] === 0 || isInert(input)) continue;
    for (const sign of [1, -1]) {
      points.set(centre, count * inputs);
      points[count * inputs + input] += sign * steps[input];
      count += 1;
    }
  }
  return count;
}

/**
 * Writes the response from the outputs at the points of `putResponsePoints`, with the same steps and inert inputs.
 *
 * @param values   points × outputs
 * @param response receives it
 */
export function putResponse(
  values: Float64Array,
  steps: Float64Array,
  isInert: (input: number) => boolean,
  { outputs, inputs, centre, linear, quadratic }: Response,
): void {
  centre.set(values.subarray(0, outputs));
  let point = 1;
  for (let input = 0; input < inputs; input++) {
    const step = steps[input];
    if (step === 0 || isInert(input)) continue;
    const above = point * outputs;
    const below = above + outputs;
    point += 2;
    for (let output = 0; output < outputs; output++) {
      const index = output * inputs + input;
      linear[index] = (values[above + output] - values[below + output]) / (2 * step);
      quadratic[index] =
        (values[above + output] - 2 * centre[output] + values[below + output]) / (2 * step * step);
    }
  }
}

/**
 * Measures a response by 1 + 2m evaluations, less two for each input that is inert.
 *
 * @param evaluate the function, m inputs to n outputs
 * @param centre m input values
 * @param steps m standard uncertainties; an input with step 0 is taken as exact
 * @param isInert says of an input that no output can depend on it
 * @returns the response, or null where an evaluation left the function's domain
 */
export function measureResponse(
  evaluate: EvaluateMany,
  centre: Float64Array,
  steps: Float64Array,
  outputs: number,
  isInert: (input: number) => boolean,
): Response | null {
  const inputs = centre.length;
  const points = new Float64Array((2 * inputs + 1) * inputs);
  const count = putResponsePoints(centre, steps, isInert, points);
  const values = new Float64Array(count * outputs);
  const sound = new Uint8Array(count);
  evaluate(points, count, values, sound);
  if (sound.some((one) => one === 0)) return null;
  const response = emptyResponse(outputs, inputs);
  putResponse(values, steps, isInert, response);
  return response;
}

/**
 * The response's outputs at the inputs centre + deviations, for many rows of deviations.
 *
 * @param deviations rows × inputs
 * @param table      receives rows × outputs
 */
export function applyResponse(response: Response, deviations: Float64Array, table: Float64Array): void {
  const { inputs, outputs, centre, linear, quadratic } = response;
  const rows = inputs === 0 ? 0 : Math.floor(deviations.length / inputs);
  for (let row = 0; row < rows; row++) {
    for (let output = 0; output < outputs; output++) {
      let value = centre[output];
      for (let input = 0, index = output * inputs; input < inputs; input++, index++) {
        const deviation = deviations[row * inputs + input];
        value += deviation * (linear[index] + quadratic[index] * deviation);
      }
      table[row * outputs + output] = value;
    }
  }
}
