import * as z from 'zod';
import type { Outcome } from '../../problem/index.ts';
import { succeed } from '../../problem/index.ts';
import { reconcile } from '../../reconcile/index.ts';
import { groupRuns } from '../../run/index.ts';
import type { Desk } from '../desk.ts';
import { reconciliationToJson } from '../json/reconciliation-json.ts';
import { loadRuns, openLab } from '../open-lab.ts';
import { takeLab, takeSeed, wholeNumber } from '../options.ts';
import { printReconciliation } from '../print/reconciliation-text.ts';
import type { Report, Verb } from '../verb.ts';

const optionsForm = z.object({
  draws: z.number().optional(),
  seed: z.number(),
  everyDraw: z.boolean().optional(),
});

export const reconcileVerb: Verb = {
  name: 'reconcile',
  what: 'Print the gap ledger: theory, ideal, each effect, full model, measured, and what remains.',
  example: 'benchwright reconcile labs/tow-chain',
  declare(command) {
    takeLab(command);
    takeSeed(command);
    command.option(
      '--draws <N>',
      'draws of the uncertain quantities; 1000 where a quick way stands, else 128',
      wholeNumber('--draws', 2, 1_000_000),
    );
    command.option('--every-draw', 'run the model at every draw, also where a quick way stands');
  },
  async run(desk: Desk, [where], given): Promise<Outcome<Report>> {
    const options = optionsForm.parse(given);
    const open = await openLab(desk, where);
    if (!open.ok) return open;
    const runs = await loadRuns(desk, open.value);
    if (!runs.ok) return runs;
    const reconciled = reconcile(open.value.pipeline, runs.value, {
      ...(options.draws === undefined ? {} : { draws: options.draws }),
      seed: options.seed,
      everyDraw: options.everyDraw === true,
      signal: desk.environment.signal,
      progress: (done, total) => desk.progress.show('effects and draws', done, total),
    });
    desk.progress.clear();
    if (!reconciled.ok) return reconciled;
    const groups = groupRuns(open.value.lab, runs.value);
    return succeed({
      json: reconciliationToJson(open.value, reconciled.value, groups, runs.value),
      print: (page) => printReconciliation(page, open.value.lab, reconciled.value, runs.value),
      notes: [...open.warnings, ...runs.warnings, ...reconciled.warnings],
    });
  },
};
