import * as z from 'zod';
import type { Outcome } from '../../problem/index.ts';
import { succeed } from '../../problem/index.ts';
import type { Desk } from '../desk.ts';
import { examineLab } from '../examine-lab.ts';
import { checkToJson } from '../json/check-json.ts';
import { openLab } from '../open-lab.ts';
import { takeLab } from '../options.ts';
import { printCheck } from '../print/check-text.ts';
import type { Report, Verb } from '../verb.ts';

const optionsForm = z.object({ all: z.boolean() });

export const checkVerb: Verb = {
  name: 'check',
  what: 'Read the lab file and the trials, check every derivation line, and run the model once.',
  example: 'benchwright check labs/tow-chain',
  declare(command) {
    takeLab(command);
    command.option('--all', 'list every quantity, also those without a stated uncertainty', false);
  },
  async run(desk: Desk, [where], given): Promise<Outcome<Report>> {
    const options = optionsForm.parse(given);
    const open = await openLab(desk, where);
    if (!open.ok) return open;
    const findings = await examineLab(desk, open.value);
    return succeed({
      json: checkToJson(open.value, findings),
      print: (page) => printCheck(page, open.value.lab, findings, options.all),
      notes: [...open.warnings, ...findings.notes],
      problems: findings.problems,
    });
  },
};
