import type { Outcome } from '../../../src/problem/index.ts';
import { succeed } from '../../../src/problem/index.ts';
import { type GapLedger, type LedgerMethod, reconcile } from '../../../src/reconcile/index.ts';
import type { LabSource } from '../source.ts';
import type { Task } from '../task.ts';

export interface LedgerQuestion {
  readonly source: LabSource;
  /** At once: shares and values, of which uncertainties are not to be shown. Complete: everything. */
  readonly pass: 'at once' | 'complete';
}

export interface LedgerAnswer {
  readonly pass: LedgerQuestion['pass'];
  readonly ledgers: readonly GapLedger[];
  /** Index of the ledger that speaks for each result. */
  readonly main: readonly (readonly [result: string, index: number])[];
  readonly method: LedgerMethod;
}

/** Draws that cost next to nothing; what they say of uncertainties is thrown away. */
const FEWEST_DRAWS = 2;

/** The gap ledgers of a lab, in two passes: what follows the hand, and what can wait. */
export const ledgerTask: Task<LedgerQuestion, LedgerAnswer> = {
  async run(room, { source, pass }, report): Promise<Outcome<LedgerAnswer>> {
    const opened = await room.open(source);
    if (!opened.ok) return opened;
    const { pipeline, trials } = opened.value;
    const reconciled = reconcile(pipeline, trials, {
      ...(pass === 'at once' ? { draws: FEWEST_DRAWS } : {}),
      progress: (done, total) => report.progress(done, total, 'effects and draws'),
    });
    if (!reconciled.ok) return reconciled;
    const { ledgers, main, method } = reconciled.value;
    return succeed(
      { pass, ledgers: ledgers.map(withoutFunctions), main: [...main], method },
      reconciled.warnings,
    );
  },
};

/** A ledger as data: the theory of a result can be evaluated, which no message can carry. */
function withoutFunctions(ledger: GapLedger): GapLedger {
  return { ...ledger, result: { ...ledger.result, theory: null } };
}
