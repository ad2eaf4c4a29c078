import * as z from 'zod';
import type { Outcome } from '../../problem/index.ts';
import { fail, nearestName, problem, succeed } from '../../problem/index.ts';
import { compareModels, infer } from '../../run/index.ts';
import type { Desk } from '../desk.ts';
import { inferenceToJson } from '../json/inference-json.ts';
import { loadRuns, type OpenLab, openLab } from '../open-lab.ts';
import { takeLab } from '../options.ts';
import { printInference } from '../print/inference-text.ts';
import type { Report, Verb } from '../verb.ts';

const optionsForm = z.object({ free: z.string().optional() });

export const inferVerb: Verb = {
  name: 'infer',
  what: 'Say which values of uncertain quantities the trials ask for, and which model; and what they cannot tell.',
  example: 'benchwright infer labs/tow-chain --free F_r,I',
  declare(command) {
    takeLab(command);
    command.option(
      '--free <SYMBOLS>',
      "quantities to correct, separated by commas; the lab's own choice where left out",
    );
  },
  async run(desk: Desk, [where], given): Promise<Outcome<Report>> {
    const options = optionsForm.parse(given);
    const open = await openLab(desk, where);
    if (!open.ok) return open;
    const free = readFree(open.value, options.free);
    if (!free.ok) return free;
    const runs = await loadRuns(desk, open.value);
    if (!runs.ok) return runs;
    const inferred = infer(open.value.pipeline, runs.value, {
      ...free.value,
      signal: desk.environment.signal,
    });
    if (!inferred.ok) return inferred;
    const models = compareModels(open.value.pipeline, runs.value);
    if (!models.ok) return models;
    const notes = [...open.warnings, ...runs.warnings, ...inferred.warnings, ...models.warnings];
    return succeed({
      json: inferenceToJson(open.value, inferred.value, models.value, runs.value),
      print: (page) => printInference(page, open.value.lab, inferred.value, models.value, runs.value),
      notes: [...new Map(notes.map((note) => [note.message, note])).values()],
    });
  },
};

function readFree(
  { lab }: OpenLab,
  written: string | undefined,
): Outcome<{ readonly free?: readonly string[] }> {
  if (written === undefined) return succeed({});
  const free = written.split(',').map((name) => name.trim());
  const problems = free.flatMap((name) => {
    if (lab.quantities.byName.has(name)) return [];
    const near = nearestName(name, lab.quantities.byName.keys());
    const advice =
      near === undefined
        ? `The quantities are ${[...lab.quantities.byName.keys()].join(', ')}.`
        : `Did you mean "${near}"?`;
    return [
      problem('usage', { step: `--free ${written}` }, `"${name}" is not a quantity of this lab.`, advice),
    ];
  });
  return problems.length > 0 ? fail(...problems) : succeed({ free });
}
