import { propagateLinear } from '../inference/index.ts';
import type { Pipeline } from '../lab/index.ts';
import type { Outcome } from '../problem/index.ts';
import { succeed } from '../problem/index.ts';
import { settingsOff } from './outputs.ts';

/**
 * Standard uncertainties that the base quantities bring to outputs of the pipeline.
 *
 * Central differences over one standard uncertainty each; where one side leaves the model's domain the other side
 * alone is taken.
 *
 * @param evaluate writes `width` outputs for base values, SI
 * @param subset effects that are on: what is switched off is exact
 * Source: JCGM 100:2008, 5.1.3 note 2 (numerical sensitivities), 5.2.2 (correlations)
 */
export function propagateThrough(
  pipeline: Pipeline,
  width: number,
  evaluate: (base: Float64Array, out: Float64Array) => Outcome<unknown>,
  subset: number,
): Outcome<Float64Array> {
  const { lab, nominal } = pipeline;
  const { base } = lab.quantities;
  const gradients = Array.from({ length: width }, () => new Float64Array(base.length));
  const point = Float64Array.from(nominal);
  const centre = new Float64Array(width);
  const above = new Float64Array(width);
  const below = new Float64Array(width);
  const start = evaluate(nominal, centre);
  if (!start.ok) return start;
  const off = new Set(settingsOff(lab, subset).map((setting) => setting.quantity.index));
  for (const { index, estimate } of base) {
    const step = estimate.standardUncertainty;
    if (step === 0 || off.has(index)) continue;
    point[index] = nominal[index] + step;
    const upper = evaluate(point, above);
    point[index] = nominal[index] - step;
    const lower = evaluate(point, below);
    point[index] = nominal[index];
    if (!upper.ok && !lower.ok) return upper;
    const high = upper.ok ? above : centre;
    const low = lower.ok ? below : centre;
    const span = (upper.ok ? step : 0) + (lower.ok ? step : 0);
    for (let output = 0; output < width; output++)
      gradients[output][index] = (high[output] - low[output]) / span;
  }
  const estimates = base.map((quantity) => quantity.estimate);
  return succeed(
    Float64Array.from(
      gradients,
      (gradient) =>
        propagateLinear({ gradient, estimates, correlations: lab.correlations }).standardUncertainty,
    ),
  );
}
