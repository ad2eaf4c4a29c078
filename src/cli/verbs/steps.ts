import * as z from 'zod';
import { createPipeline, type Setting } from '../../lab/index.ts';
import type { Outcome, Problem } from '../../problem/index.ts';
import { succeed } from '../../problem/index.ts';
import { reconcile } from '../../reconcile/index.ts';
import { rehearse, tabulateSteps } from '../../run/index.ts';
import type { Desk } from '../desk.ts';
import { stepsToJson } from '../json/steps-json.ts';
import { loadRuns, type OpenLab, openLab } from '../open-lab.ts';
import { readSettings, readSteps, takeLab, takeSettings } from '../options.ts';
import { printSteps } from '../print/steps-text.ts';
import type { StepsScale } from '../steps-scale.ts';
import type { Report, Verb } from '../verb.ts';

const optionsForm = z.object({ step: z.string().optional(), set: z.array(z.string()) });

/** Enough for an uncertainty to be known to a tenth of itself. */
const rehearsals = 60;

export const stepsVerb: Verb = {
  name: 'steps',
  what: 'Tabulate what the steppers that classes use make of each result, step by step size.',
  example: 'benchwright steps labs/tow-chain --step 20ms,10ms,5ms',
  declare(command) {
    takeLab(command);
    takeSettings(command);
    command.option('--step <TIMES>', 'steps to try, separated by commas: 10ms,5ms');
  },
  async run(desk: Desk, [where], given): Promise<Outcome<Report>> {
    const options = optionsForm.parse(given);
    const open = await openLab(desk, where);
    if (!open.ok) return open;
    const settings = readSettings(open.value.lab, options.set);
    if (!settings.ok) return settings;
    const steps = options.step === undefined ? null : readSteps(options.step);
    if (steps !== null && !steps.ok) return steps;
    const scale = await findScale(desk, open.value, settings.value);
    const tables = tabulateSteps(open.value.pipeline, {
      settings: settings.value,
      uncertainties: scale.uncertainties,
      ...(steps === null ? {} : { stepsS: steps.value }),
    });
    if (!tables.ok) return tables;
    return succeed({
      json: stepsToJson(open.value, tables.value, scale, settings.value),
      print: (page) => printSteps(page, open.value.lab, tables.value, scale),
      notes: [...open.warnings, ...tables.warnings, ...scale.notes],
    });
  },
};

/** The uncertainty that errors of steps are held against: the ledger's where there are trials, else a rehearsal's. */
async function findScale(desk: Desk, open: OpenLab, settings: readonly Setting[]): Promise<StepsScale> {
  const notes: Problem[] = [];
  if (open.lab.trials.length > 0) {
    const runs = await loadRuns(desk, open);
    const { signal } = desk.environment;
    // Only the measured line is wanted: with no effects to share out, one model stands for all subsets.
    const withoutEffects = createPipeline({ ...open.lab, effects: [] });
    const reconciled = runs.ok ? reconcile(withoutEffects, runs.value, { signal }) : runs;
    if (reconciled.ok)
      return { from: 'measured', uncertainties: measuredUncertainties(reconciled.value), notes: [] };
    notes.push(...reconciled.problems.map((found): Problem => ({ ...found, severity: 'warning' })));
  }
  const rehearsed = rehearse(open.pipeline, {
    repeats: rehearsals,
    settings,
    drawsQuantities: true,
    signal: desk.environment.signal,
    progress: (done, total) => desk.progress.show('rehearsing', done, total),
  });
  desk.progress.clear();
  if (!rehearsed.ok)
    return { from: 'nothing', uncertainties: new Map(), notes: [...notes, ...rehearsed.problems] };
  const uncertainties = new Map<string, number>();
  for (const { output, spread } of rehearsed.value.outputs) {
    if (!uncertainties.has(output.result.name)) uncertainties.set(output.result.name, spread);
  }
  return { from: 'rehearsed', uncertainties, notes };
}

function measuredUncertainties({
  ledgers,
  main,
}: Extract<ReturnType<typeof reconcile>, { ok: true }>['value']): ReadonlyMap<string, number> {
  return new Map(
    [...main].flatMap(([name, index]) => {
      const u = ledgers[index]?.measured?.standardUncertainty;
      return u === undefined ? [] : [[name, u] as const];
    }),
  );
}
