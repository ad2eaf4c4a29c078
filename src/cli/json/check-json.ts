import { describeRecognition, type Lab, type TrialRun } from '../../lab/index.ts';
import type { LineVerdict } from '../../run/index.ts';
import type { CheckFindings } from '../examine-lab.ts';
import type { OpenLab } from '../open-lab.ts';
import { labToJson } from './lab-json.ts';
import { problemToJson } from './problem-json.ts';
import { finite, intervalIn, pointIn } from './values.ts';

/** The document of `check --json`; docs/json.md says what each key holds. */
export function checkToJson(open: OpenLab, findings: CheckFindings): Readonly<Record<string, unknown>> {
  const { lab } = open;
  return {
    lab: labToJson(open),
    quantities: Object.fromEntries(
      lab.quantities.base.map((quantity) => [quantity.name, baseToJson(quantity)]),
    ),
    computed: lab.quantities.derived.map(({ name }) => name),
    effects: lab.effects.map(({ name }) => name),
    model: lab.model.kind,
    model_runs: findings.modelRuns,
    instruments: Object.fromEntries(lab.instruments.map(({ name, kind }) => [name, kind.kind])),
    steps: {
      each_run: lab.eachRun.steps.map(({ words }) => words),
      across_runs: lab.acrossRuns.steps.map(({ words }) => words),
    },
    results: lab.results.map(({ name }) => name),
    derivation: findings.derivation?.lines.map(lineToJson) ?? null,
    trials: findings.runs?.map((run) => trialToJson(run, findings)) ?? null,
    problems: findings.problems.map(problemToJson),
  };
}

function baseToJson({
  is,
  estimate,
  unit,
  from,
}: Lab['quantities']['base'][number]): Readonly<Record<string, unknown>> {
  return {
    is,
    value: pointIn(unit, estimate.value),
    u: intervalIn(unit, estimate.standardUncertainty),
    unit: unit.text,
    from,
    si: finite(estimate.value),
  };
}

function lineToJson(verdict: LineVerdict): Readonly<Record<string, unknown>> {
  const { line } = verdict;
  const sides =
    verdict.verdict === 'false'
      ? {
          left: finite(verdict.left),
          right: finite(verdict.right),
          ratio: finite(verdict.ratio),
          at: finite(verdict.at),
        }
      : { left: null, right: null, ratio: null, at: null };
  return {
    line: line.text,
    because: line.because,
    within: line.within,
    true: verdict.verdict === 'true',
    ...sides,
  };
}

function trialToJson(
  { entry, sha256, table, outside }: TrialRun,
  { reduced }: CheckFindings,
): Readonly<Record<string, unknown>> {
  const done = reduced?.runs.find((run) => run.trial.entry === entry);
  return {
    name: entry.name,
    file: entry.file,
    run: entry.run ?? null,
    set_aside: entry.setAside,
    sha256,
    read_as: describeRecognition(table.recognised),
    rows: table.rows,
    rows_outside: Math.max(0, ...outside.map(({ before, behind }) => before + behind)),
    rows_kept: done?.rows ?? null,
  };
}
