import type { Task } from '../../app/compute/task.ts';
import { type LedgerQuestion, ledgerTask } from '../../app/compute/tasks/ledger.ts';
import { type LedgerRow, reachOfRows, rowsOfLedger } from '../../app/ledger/ledger-rows.ts';
import { type Outcome, succeed } from '../../src/problem/index.ts';
import { phrasesOf } from '../../src/publish/language/index.ts';
import { formatUnit } from '../../src/quantity/index.ts';
import type { GapLedger } from '../../src/reconcile/index.ts';
import { type PageLanguage, wordsOf } from '../words/index.ts';

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

export type ShownLedgerQuestion = LedgerQuestion & { readonly language: PageLanguage };

/** The ledger that speaks for each result, as rows. */
export const shownLedgerTask: Task<ShownLedgerQuestion, ShownLedgers> = {
  async run(room, { language, ...question }, report): Promise<Outcome<ShownLedgers>> {
    const found = await ledgerTask.run(room, question, report);
    if (!found.ok) return found;
    const { ledgers, main, pass } = found.value;
    const shown = main.flatMap(([, index]) => ledgers[index] ?? []);
    return succeed(
      { pass, ledgers: shown.map((ledger) => showLedger(ledger, pass, language)) },
      found.warnings,
    );
  },
};

function showLedger(ledger: GapLedger, pass: LedgerQuestion['pass'], language: PageLanguage): ShownLedger {
  const { result, group, remainder, measured } = ledger;
  const rows = rowsOfLedger(ledger, pass === 'complete').map((row) =>
    tellRow(row, measured?.n ?? 0, language),
  );
  const { verdicts } = phrasesOf(language).guide;
  return {
    result: result.name,
    is: result.is,
    unit: formatUnit(result.unit),
    group,
    rows,
    reach: reachOfRows(rows),
    verdict: remainder === null || remainder.verdict === 'unknown' ? '' : verdicts[remainder.verdict],
  };
}

/** The row in the words of the page; effects and steps keep the author's. */
function tellRow(row: LedgerRow, runs: number, language: PageLanguage): LedgerRow {
  const words = wordsOf(language).ledger;
  const labels: Partial<Record<LedgerRow['kind'], string>> = {
    theory: words.theory,
    ideal: words.ideal,
    full: words.full,
    measured: words.measured(runs),
    remainder: words.left,
  };
  const printed = row.kind === 'off' ? words.off : row.printed;
  return {
    ...row,
    label: labels[row.kind] ?? row.label,
    printed: language === 'de' ? printed.replaceAll('.', ',') : printed,
  };
}
