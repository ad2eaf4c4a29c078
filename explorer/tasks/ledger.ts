import type { Task } from '../../app/compute/task.ts';
import { type LedgerQuestion, ledgerTask } from '../../app/compute/tasks/ledger.ts';
import { type LedgerRow, reachOfRows, rowsOfLedger } from '../../app/ledger/ledger-rows.ts';
import { type Outcome, succeed } from '../../src/problem/index.ts';
import { formatUnit } from '../../src/quantity/index.ts';
import { type GapLedger, sayVerdict } from '../../src/reconcile/index.ts';

/** A ledger in rows, with what it says in the end. */
export interface ShownLedger {
  readonly result: string;
  readonly is: string;
  readonly unit: string;
  readonly group: string | null;
  readonly rows: readonly LedgerRow[];
  readonly reach: readonly [number, number];
  /** Empty where nothing was measured or uncertainties are still to come. */
  readonly verdict: string;
}

export interface ShownLedgers {
  readonly pass: LedgerQuestion['pass'];
  readonly ledgers: readonly ShownLedger[];
}

/** The ledger that speaks for each result, as rows. */
export const shownLedgerTask: Task<LedgerQuestion, ShownLedgers> = {
  async run(room, question, report): Promise<Outcome<ShownLedgers>> {
    const found = await ledgerTask.run(room, question, report);
    if (!found.ok) return found;
    const { ledgers, main, pass } = found.value;
    const shown = main.flatMap(([, index]) => ledgers[index] ?? []);
    return succeed({ pass, ledgers: shown.map((ledger) => showLedger(ledger, pass)) }, found.warnings);
  },
};

function showLedger(ledger: GapLedger, pass: LedgerQuestion['pass']): ShownLedger {
  const { result, group, remainder } = ledger;
  const rows = rowsOfLedger(ledger, pass === 'complete');
  return {
    result: result.name,
    is: result.is,
    unit: formatUnit(result.unit),
    group,
    rows,
    reach: reachOfRows(rows),
    verdict: remainder === null || remainder.verdict === 'unknown' ? '' : sayVerdict(remainder.verdict),
  };
}
