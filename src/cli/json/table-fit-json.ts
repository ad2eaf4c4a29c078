import type { TrialTable } from '../../lab/index.ts';
import type { TableFit } from '../../run/index.ts';
import { finite } from './values.ts';

/** The document of `fit --json`; docs/json.md says what each key holds. Numbers are in the units of the table. */
export function tableFitToJson(
  file: string,
  table: TrialTable,
  fitted: TableFit,
): Readonly<Record<string, unknown>> {
  const { fit, parameters } = fitted;
  const size = parameters.length;
  return {
    file,
    kind: fitted.kind,
    parameters: Object.fromEntries(
      parameters.map(({ name, value, standardUncertainty }) => [
        name,
        { value: finite(value), u: finite(standardUncertainty) },
      ]),
    ),
    order: parameters.map(({ name }) => name),
    covariance: parameters.map((_, row) =>
      Array.from(fit.covariance.subarray(row * size, (row + 1) * size), finite),
    ),
    residual: {
      sum_of_squares: finite(fit.sumOfSquares),
      sd: finite(fit.residualSd),
      dof: finite(fit.degreesOfFreedom),
    },
    reduced_chi_square: fit.reducedChiSquare === null ? null : finite(fit.reducedChiSquare),
    uncertainty_from: fit.uncertaintyFrom,
    readings: fitted.readings,
    rows_left_out: fitted.leftOut,
    columns: Object.fromEntries(fitted.columns.map(({ symbol, heading }) => [symbol, heading])),
    residuals: Array.from(fit.residuals, finite),
    digests: { [file]: table.sha256 },
  };
}
