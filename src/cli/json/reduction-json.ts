import type { Lab, TrialRun } from '../../lab/index.ts';
import { formatDimension } from '../../quantity/index.ts';
import type { FitReport, Scalar } from '../../reduction/index.ts';
import type { ReducedTrials } from '../../run/index.ts';
import type { OpenLab } from '../open-lab.ts';
import { digestsToJson } from './digests-json.ts';
import { labToJson } from './lab-json.ts';
import { problemToJson } from './problem-json.ts';
import { finite, intervalIn, pointIn, settingsToJson } from './values.ts';

/** The document of `reduce --json`; docs/json.md says what each key holds. */
export function reductionToJson(
  open: OpenLab,
  reduced: ReducedTrials,
  runs: readonly TrialRun[],
): Readonly<Record<string, unknown>> {
  const { lab } = open;
  return {
    lab: labToJson(open),
    results: reduced.outputs.map(({ output, value, n, scatter }) => ({
      name: output.result.name,
      setting: output.group === null ? null : (reduced.groups[output.group]?.label ?? null),
      value: pointIn(output.result.unit, value),
      unit: output.result.unit.text,
      n,
      scatter: intervalIn(output.result.unit, scatter),
      si: finite(value),
    })),
    runs: reduced.runs.map((run) => ({
      name: run.trial.entry.name,
      file: run.trial.entry.file,
      run: run.trial.entry.run ?? null,
      when: settingsToJson(run.trial.entry.when),
      rows: run.rows,
      outside: run.trial.outside,
      scalars: scalarsToJson(run.scalars, lab),
      fits: run.fits.map(fitToJson),
    })),
    across_fits: reduced.acrossFits.map(fitToJson),
    set_aside: reduced.setAside.map(({ trial, reason }) => ({ name: trial.entry.name, reason })),
    problems: reduced.failed.flatMap((run) => run.problems).map(problemToJson),
    digests: digestsToJson(runs),
  };
}

/** Results in their own unit, other scalars in SI. */
function scalarsToJson(scalars: ReadonlyMap<string, Scalar>, lab: Lab): Readonly<Record<string, unknown>> {
  const entries = [...scalars].map(([name, { value, standardUncertainty, dimension, degreesOfFreedom }]) => {
    const unit = lab.results.find((result) => result.name === name)?.unit;
    const inUnit =
      unit === undefined
        ? { value: finite(value), u: finite(standardUncertainty), unit: formatDimension(dimension) }
        : { value: pointIn(unit, value), u: intervalIn(unit, standardUncertainty), unit: unit.text };
    return [name, { ...inUnit, degrees_of_freedom: finite(degreesOfFreedom), si: finite(value) }];
  });
  return Object.fromEntries(entries);
}

function fitToJson(fit: FitReport): Readonly<Record<string, unknown>> {
  const { parameters } = fit;
  return {
    fit: fit.words,
    run: fit.runName,
    x: fit.x.text,
    y: fit.y.text,
    n: fit.residuals.length,
    parameters: parameters.map(({ name, value, standardUncertainty, dimension }) => ({
      name,
      value: finite(value),
      u: finite(standardUncertainty),
      unit: formatDimension(dimension),
    })),
    covariance: parameters.map((_, row) =>
      parameters.map((__, column) => finite(fit.covariance[row * parameters.length + column] ?? Number.NaN)),
    ),
    degrees_of_freedom: finite(fit.degreesOfFreedom),
    reduced_chi_square: fit.reducedChiSquare === null ? null : finite(fit.reducedChiSquare),
    uncertainty_from: fit.uncertaintyFrom,
    residuals: Array.from(fit.residuals, finite),
  };
}
