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

/** Computes outputs at inputs; false where the inputs leave the domain of the model. */
export type Evaluate = (inputs: Float64Array, outputs: Float64Array) => boolean;

/**
 * The inputs at which a function must be known for its response: the centre, then one step up and one step down for
 * each input that is uncertain and not inert.
 */
export function responsePoints(
  centre: Float64Array,
  steps: Float64Array,
  isInert: (input: number) => boolean,
): readonly Float64Array[] {
  const points = [Float64Array.from(centre)];
  for (let input = 0; input < centre.length; input++) {
    if (steps[input] === 0 || isInert(input)) continue;
    for (const sign of [1, -1]) {
      const point = Float64Array.from(centre);
      point[input] += sign * steps[input];
      points.push(point);
    }
  }
  return points;
}

/**
 * The response from the outputs at `responsePoints`, points × outputs, with the same steps and inert inputs.
 */
export function responseFrom(
  values: Float64Array,
  steps: Float64Array,
  outputs: number,
  isInert: (input: number) => boolean,
): Response {
  const inputs = steps.length;
  const centre = values.slice(0, outputs);
  const linear = new Float64Array(outputs * inputs);
  const quadratic = new Float64Array(outputs * inputs);
  let point = 1;
  for (let input = 0; input < inputs; input++) {
    const step = steps[input];
    if (step === 0 || isInert(input)) continue;
    const above = values.subarray(point * outputs, (point + 1) * outputs);
    const below = values.subarray((point + 1) * outputs, (point + 2) * outputs);
    point += 2;
    for (let output = 0; output < outputs; output++) {
      const index = output * inputs + input;
      linear[index] = (above[output] - below[output]) / (2 * step);
      quadratic[index] = (above[output] - 2 * centre[output] + below[output]) / (2 * step * step);
    }
  }
  return { outputs, inputs, centre, linear, quadratic };
}

/**
 * Measures a response by 1 + 2m evaluations, less two for each input that is inert.
 *
 * @param evaluate the function, m inputs to n outputs
 * @param centre m input values
 * @param steps m standard uncertainties; an input with step 0 is taken as exact
 * @param isInert says of an input that no output can depend on it
 * @returns the response, or null where an evaluation left the model's domain
 */
export function measureResponse(
  evaluate: Evaluate,
  centre: Float64Array,
  steps: Float64Array,
  outputs: number,
  isInert: (input: number) => boolean,
): Response | null {
  const points = responsePoints(centre, steps, isInert);
  const values = new Float64Array(points.length * outputs);
  for (const [index, point] of points.entries()) {
    if (!evaluate(point, values.subarray(index * outputs, (index + 1) * outputs))) return null;
  }
  return responseFrom(values, steps, outputs, isInert);
}

/** The response's outputs at the inputs centre + deviations. */
export function applyResponse(response: Response, deviations: Float64Array, outputs: Float64Array): void {
  const { inputs, linear, quadratic } = response;
  for (let output = 0; output < response.outputs; output++) {
    let value = response.centre[output];
    for (let input = 0, index = output * inputs; input < inputs; input++, index++) {
      const deviation = deviations[input];
      value += deviation * (linear[index] + quadratic[index] * deviation);
    }
    outputs[output] = value;
  }
}
