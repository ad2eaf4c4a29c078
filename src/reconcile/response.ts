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
 * Measures a response at `centre` by 1 + 2m evaluations, less two for each input that is inert.
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
  const inputs = centre.length;
  const response: Response = {
    outputs,
    inputs,
    centre: new Float64Array(outputs),
    linear: new Float64Array(outputs * inputs),
    quadratic: new Float64Array(outputs * inputs),
  };
  if (!evaluate(centre, response.centre)) return null;
  const point = Float64Array.from(centre);
  const above = new Float64Array(outputs);
  const below = new Float64Array(outputs);
  for (let input = 0; input < inputs; input++) {
    const step = steps[input];
    if (step === 0 || isInert(input)) continue;
    point[input] = centre[input] + step;
    const upper = evaluate(point, above);
    point[input] = centre[input] - step;
    const lower = evaluate(point, below);
    point[input] = centre[input];
    if (!upper || !lower) return null;
    for (let output = 0; output < outputs; output++) {
      const index = output * inputs + input;
      response.linear[index] = (above[output] - below[output]) / (2 * step);
      response.quadratic[index] =
        (above[output] - 2 * response.centre[output] + below[output]) / (2 * step * step);
    }
  }
  return response;
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
