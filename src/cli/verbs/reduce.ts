import type { Outcome } from '../../problem/index.ts';
import { fail, problem, succeed } from '../../problem/index.ts';
import { reduceTrials } from '../../run/index.ts';
import type { Desk } from '../desk.ts';
import { reductionToJson } from '../json/reduction-json.ts';
import { loadRuns, openLab } from '../open-lab.ts';
import { takeLab } from '../options.ts';
import { printReduction } from '../print/reduction-text.ts';
import type { Report, Verb } from '../verb.ts';

export const reduceVerb: Verb = {
  name: 'reduce',
  what: 'Take every trial through the steps of reduction: what was measured, run by run.',
  example: 'benchwright reduce labs/tow-chain',
  declare: takeLab,
  async run(desk: Desk, [where]): Promise<Outcome<Report>> {
    const open = await openLab(desk, where);
    if (!open.ok) return open;
    const { lab, pipeline } = open.value;
    if (lab.trials.length === 0) {
      return fail(
        problem(
          'no-trials',
          { file: lab.file },
          'The lab has no trials yet, so there is nothing to reduce.',
          'Name the files of real runs under "trials", or see with "rehearse" what they would look like.',
        ),
      );
    }
    const runs = await loadRuns(desk, open.value);
    if (!runs.ok) return runs;
    const reduced = reduceTrials(pipeline, runs.value);
    if (!reduced.ok) return reduced;
    return succeed({
      json: reductionToJson(open.value, reduced.value, runs.value),
      print: (page) => printReduction(page, lab, reduced.value, runs.value),
      notes: [...open.warnings, ...runs.warnings, ...reduced.value.runs.flatMap((run) => run.notes)],
      problems: reduced.value.failed.flatMap((run) => run.problems),
    });
  },
};
