import type { FitAxis, FitReport } from './fit-report.ts';
import type { Judgement } from './judge-fit.ts';
import type { RunState, Scalar } from './state.ts';

/** The report of a fit whose parameters have become scalars. */
export function reportOf(fit: {
  readonly state: RunState;
  readonly words: string;
  readonly step: string;
  readonly x: FitAxis;
  readonly y: FitAxis;
  readonly names: readonly string[];
  readonly scalars: readonly Scalar[];
  readonly residuals: Float64Array;
  readonly judgement: Judgement;
}): FitReport {
  const { words, step, x, y, residuals, judgement } = fit;
  return {
    words,
    step,
    runName: fit.state.runName,
    x,
    y,
    fitted: y.values.map((value, i) => value - residuals[i]),
    residuals,
    parameters: fit.scalars.map(({ value, standardUncertainty, dimension }, j) => ({
      name: fit.names[j],
      value,
      standardUncertainty,
      dimension,
    })),
    covariance: judgement.covariance,
    degreesOfFreedom: judgement.degreesOfFreedom,
    reducedChiSquare: judgement.reducedChiSquare,
    uncertaintyFrom: judgement.uncertaintyFrom,
    statement: judgement.statement,
    notes: judgement.notes,
  };
}
