import { type Outcome, type Place, type Problem, succeed, warning } from '../problem/index.ts';
import type { Weighting } from './check-readings.ts';
import { judgeConditioning, tellIdle } from './conditioning.ts';
import type { Limits } from './damped-search.ts';
import { type Fit, finishFit } from './fit.ts';
import { invertGram } from './householder.ts';
import type { Objective } from './objective.ts';
import type { Settled } from './settle.ts';

/** Turns the end of a nonlinear fit into what every fit tells, with what must be said of its parameters. */
export function reportFit(input: {
  readonly objective: Objective;
  readonly settled: Settled;
  readonly weighting: Weighting;
  readonly robust: boolean;
  readonly names: readonly string[];
  readonly limits: Limits;
  readonly place: Place;
}): Outcome<Fit> {
  const { objective, settled, weighting, robust, names, place } = input;
  const { n, k } = objective;
  const { free, held, idle, imitating, triangle } = settled;
  const part = invertGram(triangle);
  const inverse = new Float64Array(k * k).fill(Number.NaN);
  free.forEach((i, a) => {
    free.forEach((j, b) => {
      inverse[i * k + j] = part[a * free.length + b];
    });
  });
  for (const j of [...idle, ...imitating]) {
    for (let i = 0; i < k; i += 1) {
      inverse[i * k + j] = Number.NaN;
      inverse[j * k + i] = Number.NaN;
    }
    inverse[j * k + j] = Number.POSITIVE_INFINITY;
  }

  const warnings: Problem[] = [];
  for (const j of held) {
    const bound = settled.parameters[j];
    warnings.push(
      warning(
        'at-bound',
        place,
        `${names[j]} ended at its bound ${bound}: the readings push it further, so it has no symmetric uncertainty.`,
        'Widen the bound if the value beyond it is possible, or hold the parameter there and fit the others.',
      ),
    );
  }
  if (idle.length > 0) warnings.push(tellIdle(idle, imitating, names, place));
  const entanglement = Float64Array.from(
    free,
    (_, a) => Math.sqrt(part[a * free.length + a]) * triangle.norms[a],
  );
  const judged =
    free.length > 1
      ? judgeConditioning(
          entanglement,
          part,
          free.map((j) => names[j]),
          Number.POSITIVE_INFINITY,
          place,
        )
      : null;
  if (judged) warnings.push(judged);

  const degreesOfFreedom = n - k + held.length + idle.length;
  const residuals = settled.residuals.slice();
  if (weighting.uy) for (let i = 0; i < n; i += 1) residuals[i] *= weighting.uy[i];
  let sumOfSquares = 0;
  for (const residual of settled.residuals) sumOfSquares += residual * residual;
  const fit = finishFit({
    parameters: settled.parameters,
    inverse,
    sumOfSquares,
    degreesOfFreedom,
    residuals,
    stated: weighting.uy !== null,
    uncertaintyFrom: robust ? 'scatter' : weighting.uncertaintyFrom,
    warnings,
    variance: robust ? objective.robustVariance(settled.residuals, k) : undefined,
  });
  return succeed(fit, warnings);
}
