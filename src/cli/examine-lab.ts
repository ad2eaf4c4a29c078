import type { TrialRun } from '../lab/index.ts';
import type { Outcome, Problem } from '../problem/index.ts';
import { problem } from '../problem/index.ts';
import {
  allEffects,
  checkDerivation,
  type DerivationCheck,
  groupRuns,
  type ReducedTrials,
  reduceTrials,
  settleVariation,
  simulateGroups,
  warnOfEffectsWithoutInfluence,
} from '../run/index.ts';
import type { Desk } from './desk.ts';
import { loadRuns, type OpenLab } from './open-lab.ts';

/** All that `check` found; null where a part could not be done. */
export interface CheckFindings {
  readonly derivation: DerivationCheck | null;
  readonly runs: readonly TrialRun[] | null;
  readonly reduced: ReducedTrials | null;
  /** Whether the model ran and its simulated readings could be reduced, ideal and full. */
  readonly modelRuns: boolean;
  readonly problems: readonly Problem[];
  readonly notes: readonly Problem[];
}

/** Tries each part by itself, so that a problem in one does not hide those of the others. */
export async function examineLab(desk: Desk, open: OpenLab): Promise<CheckFindings> {
  const { lab, pipeline } = open;
  const problems: Problem[] = [];
  const notes: Problem[] = [];
  const collect = <T>(outcome: Outcome<T>): T | null => {
    if (outcome.ok) notes.push(...outcome.warnings);
    else problems.push(...outcome.problems);
    return outcome.ok ? outcome.value : null;
  };
  const groups = groupRuns(lab, []);
  const subsets = lab.effects.length === 0 ? [0] : [allEffects(lab), 0];
  const variation = lab.model.kind === 'none' ? null : settleVariation(pipeline, groups);
  const simulated =
    variation === null
      ? []
      : subsets.map((subset) =>
          collect(simulateGroups(pipeline, groups, pipeline.nominal, subset, variation)),
        );
  const modelRuns = simulated.every((done) => done !== null);
  if (modelRuns && lab.effects.length > 0)
    notes.push(...(collect(warnOfEffectsWithoutInfluence(pipeline)) ?? []));
  const derivation = lab.derivation.length === 0 || !modelRuns ? null : collect(checkDerivation(pipeline));
  problems.push(...falseLines(derivation, lab.file));
  const runs = collect(await loadRuns(desk, open));
  const reduced = runs === null || runs.length === 0 ? null : collect(reduceTrials(pipeline, runs));
  problems.push(...(reduced?.failed.flatMap((run) => run.problems) ?? []));
  notes.push(...(reduced?.runs.flatMap((run) => run.notes) ?? []));
  return { derivation, runs, reduced, modelRuns, problems: withoutRepeats(problems), notes };
}

/** The first false line is the one to mend; those after it may be false because of it. */
function falseLines(derivation: DerivationCheck | null, file: string): readonly Problem[] {
  if (derivation === null || derivation.firstFalse === null) return [];
  const verdict = derivation.lines[derivation.firstFalse];
  if (verdict === undefined || verdict.verdict !== 'false') return [];
  const { left, right, ratio, line } = verdict;
  const place = line.equation.left.origin?.placeAt(0) ?? { file };
  const sides = `its left side is ${Number(left.toPrecision(6))}, its right side ${Number(right.toPrecision(6))} (SI units), a ratio of ${Number(ratio.toPrecision(6))}`;
  return [
    problem(
      'false-line',
      place,
      `Line ${derivation.firstFalse + 1} of the derivation, "${line.text}", is not true of the ideal motion: ${sides}.`,
      'Is a term or a factor missing? If the line is an approximation, say how good it is with "within".',
    ),
  ];
}

/** Ideal and full model often fail for the same reason. */
function withoutRepeats(problems: readonly Problem[]): readonly Problem[] {
  const seen = new Map(
    problems.map((found) => [JSON.stringify([found.code, found.place, found.message]), found]),
  );
  return [...seen.values()];
}
