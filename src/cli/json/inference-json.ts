import type { BaseQuantity, TrialRun } from '../../lab/index.ts';
import type { Inference, WeighedModel } from '../../run/index.ts';
import type { OpenLab } from '../open-lab.ts';
import { digestsToJson } from './digests-json.ts';
import { labToJson } from './lab-json.ts';
import { finite, intervalIn, pointIn } from './values.ts';

/** The document of `infer --json`; docs/json.md says what each key holds. */
export function inferenceToJson(
  open: OpenLab,
  inference: Inference,
  models: readonly WeighedModel[],
  runs: readonly TrialRun[],
): Readonly<Record<string, unknown>> {
  const { free, data } = inference;
  const square = (values: Float64Array) =>
    free.map((_, row) => free.map((__, column) => finite(values[row * free.length + column] ?? Number.NaN)));
  return {
    lab: labToJson(open),
    free: free.map(quantityToJson),
    covariance_si: square(inference.covariance),
    correlations: square(inference.correlations),
    indistinguishable: inference.indistinguishable.map(({ between, correlation }) => ({
      between: between.map(({ name }) => name),
      correlation: finite(correlation),
    })),
    uninformed: inference.uninformed.map(({ name }) => name),
    alongside: inference.alongside.map(({ name }) => name),
    fit: { chi_square: finite(inference.chiSquare), degrees_of_freedom: finite(inference.degreesOfFreedom) },
    data: data.map((row) => {
      const unit = open.lab.results.find(({ name }) => name === row.scalar)?.unit;
      const point = (value: number) => (unit === undefined ? finite(value) : pointIn(unit, value));
      return {
        name: row.scalar,
        setting: row.group,
        unit: unit?.text ?? 'SI',
        measured: point(row.measured),
        u: unit === undefined ? finite(row.standardUncertainty) : intervalIn(unit, row.standardUncertainty),
        before: point(row.before),
        after: point(row.after),
      };
    }),
    models: models.map(({ model, weight, logEvidence, chiSquare, free: own }) => ({
      model: model.name,
      is: model.is,
      weight: finite(weight),
      log_evidence: finite(logEvidence),
      chi_square: finite(chiSquare),
      free: own.map(quantityToJson),
    })),
    digests: digestsToJson(runs),
  };
}

function quantityToJson({ quantity, prior, posterior, shift }: Inference['free'][number]) {
  return {
    quantity: quantity.name,
    is: quantity.is,
    unit: quantity.unit.text,
    prior: valueToJson(quantity, prior),
    posterior: {
      ...valueToJson(quantity, posterior),
      interval: {
        level: posterior.interval.level,
        low: pointIn(quantity.unit, posterior.interval.low),
        high: pointIn(quantity.unit, posterior.interval.high),
      },
    },
    shift_in_prior_u: finite(shift),
  };
}

function valueToJson(
  { unit }: BaseQuantity,
  { value, standardUncertainty }: Inference['free'][number]['prior'],
) {
  return { value: pointIn(unit, value), u: intervalIn(unit, standardUncertainty), si: finite(value) };
}
