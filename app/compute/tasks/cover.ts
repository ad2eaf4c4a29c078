import { type ChartFigure, ledgerFigure } from '../../../src/figure/index.ts';
import type { Outcome } from '../../../src/problem/index.ts';
import { succeed } from '../../../src/problem/index.ts';
import { createReconciler } from '../../../src/reconcile/index.ts';
import type { Task } from '../task.ts';
import { WORDING } from '../wording.ts';
import { asLedger } from './ledger.ts';

export interface CoverQuestion {
  /** The text of the lab file. */
  readonly text: string;
}

export interface CoverAnswer {
  /** What the lab's first result is made of: theory, ideal, effects, full; null for a lab without results. */
  readonly figure: ChartFigure | null;
}

/** The picture by which a lab is known on the shelf: its ledger as the model has it, without any run. */
export const coverTask: Task<CoverQuestion, CoverAnswer> = {
  async run(room, { text }): Promise<Outcome<CoverAnswer>> {
    const opened = room.openAlone({ text, files: [], settings: [], without: [] });
    if (!opened.ok) return opened;
    const made = createReconciler(opened.value.pipeline, []);
    if (!made.ok) return made;
    const lines = made.value.outline();
    if (!lines.ok) return lines;
    const [first] = lines.value;
    return succeed({ figure: first === undefined ? null : ledgerFigure(asLedger(first, 0), WORDING) });
  },
};
