import type { Lab, TrialRun } from '../../lab/index.ts';
import { fromSI } from '../../quantity/index.ts';
import type { GapLedger, Reconciliation } from '../../reconcile/index.ts';
import { printClosing } from './closing-text.ts';
import { printFiles } from './files-text.ts';
import { nameResult, printHeading, printTitle } from './heading.ts';
import { printLedger } from './ledger-text.ts';
import { alignNumbers, printRough } from './numbers.ts';
import type { Page } from './page.ts';
import { type Cell, printParagraph, printTable, type TableColumn } from './table.ts';
import { verdictStyle } from './verdict-style.ts';

/** The whole reconciliation for people: a ledger for each result, all settings, how it was found, which files. */
export function printReconciliation(
  page: Page,
  lab: Lab,
  reconciliation: Reconciliation,
  runs: readonly TrialRun[],
): string[] {
  const { ledgers, main, method } = reconciliation;
  const speaking = [...main.values()].flatMap((index) => ledgers.slice(index, index + 1));
  return [
    ...printTitle(page, lab),
    ...speaking.flatMap((ledger) => {
      const closing = printClosing(page, ledger);
      return ['', ...printLedger(page, ledger), ...closing];
    }),
    ...printSettings(page, lab, ledgers),
    '',
    ...printParagraph(page, `${sayMethod(page, method)}${sayOrders(reconciliation)}`),
    ...printFiles(page, runs),
  ];
}

/** All settings of each result below each other, where there are several. */
function printSettings(page: Page, lab: Lab, ledgers: readonly GapLedger[]): string[] {
  return lab.results.flatMap((result) => {
    const own = ledgers.filter((ledger) => ledger.result === result && ledger.group !== null);
    return own.length < 2 ? [] : ['', ...printSettingsOf(page, own)];
  });
}

function printSettingsOf(page: Page, ledgers: readonly GapLedger[]): string[] {
  const [first] = ledgers;
  if (first === undefined) return [];
  const { unit } = first.result;
  const point = (value: number | undefined) =>
    value === undefined ? Number.NaN : fromSI(value, unit, 'point');
  const interval = (value: number | undefined) =>
    value === undefined ? Number.NaN : fromSI(value, unit, 'interval');
  const numbers = ledgers.map(({ theory, full, measured, remainder }) => [
    { value: point(theory?.value), standardUncertainty: interval(theory?.standardUncertainty) },
    { value: point(full.value), standardUncertainty: interval(full.standardUncertainty) },
    { value: point(measured?.value), standardUncertainty: interval(measured?.standardUncertainty) },
    {
      value: interval(remainder?.value),
      standardUncertainty: interval(remainder?.standardUncertainty),
      signed: true,
    },
  ]);
  // One alignment for all columns, so that the same power of ten is taken out of all.
  const aligned = alignNumbers(page, numbers.flat());
  const cell = (row: number, column: number): string => {
    if (Number.isNaN(numbers[row]?.[column]?.value ?? Number.NaN)) return '';
    const at = row * 4 + column;
    return `${aligned.values[at] ?? ''} ${aligned.uncertainties[at] ?? ''}`.trimEnd();
  };
  const rows = ledgers.map(({ group, measured, remainder }, row) => [
    page.plain(group ?? ''),
    measured === null ? '' : String(measured.n),
    cell(row, 0),
    cell(row, 1),
    cell(row, 2),
    cell(row, 3),
    remainder === null
      ? ''
      : {
          text: page.plain(`${printRough(page, Math.abs(remainder.z))} u`),
          style: verdictStyle(remainder.verdict),
        },
    remainder === null ? '' : { text: remainder.verdict, style: verdictStyle(remainder.verdict) },
  ]);
  const columns = [
    { heading: 'setting', widest: 24 },
    { heading: 'runs', align: 'right' as const },
    { heading: 'theory' },
    { heading: 'full model' },
    { heading: 'measured' },
    { heading: 'remainder' },
    { heading: '', align: 'right' as const },
    { heading: '' },
  ];
  const filled = columns.map((_, index) => rows.some((row) => row[index] !== ''));
  const shown = columnsThatFit(page, columns, rows, filled);
  return [
    printHeading(page, `All settings: ${nameResult(page, first.result, aligned.exponent)}`),
    ...printTable(
      page,
      columns.filter((_, index) => shown[index]),
      rows.map((row) => row.filter((_, index) => shown[index])),
    ),
  ];
}

/** On a narrow page the least telling columns go: theory, the number of runs, the size of the remainder in u. */
function columnsThatFit(
  page: Page,
  columns: readonly TableColumn[],
  rows: readonly (readonly (string | Cell)[])[],
  filled: readonly boolean[],
): readonly boolean[] {
  const shown = [...filled];
  for (const leastTelling of [2, 1, 6]) {
    const lines = printTable(
      { ...page, paint: (text) => text },
      columns.filter((_, index) => shown[index]),
      rows.map((row) => row.filter((_, index) => shown[index])),
    );
    if (Math.max(...lines.map((line) => line.length)) <= page.width) break;
    shown[leastTelling] = false;
  }
  return shown;
}

/** Where orders were drawn, how many, and what that leaves open. */
function sayOrders({ ledgers, method }: Reconciliation): string {
  if (method.orders === 'all') return '';
  const worst = ledgers.reduce(
    (most, { effects }) =>
      effects.reduce(
        (largest, { orderError = 0, standardUncertainty: u }) => Math.max(largest, orderError / u),
        most,
      ),
    0,
  );
  const size = Number.isFinite(worst) ? ` (a standard error of at most ${worst.toPrecision(1)} u)` : '';
  return ` The effects are too many for every order of switching on: shares are means over ${method.orders} orders drawn at random${size}.`;
}

function sayMethod(page: Page, method: Reconciliation['method']): string {
  const draws = `${method.draws} quasi-random draws of all uncertain quantities`;
  if (method.kind === 'draws of the model') {
    const failed =
      method.failed === 0 ? '' : ` ${method.failed} of them left the model's domain and are not counted.`;
    return `Uncertainties u are standard uncertainties, from ${draws}, each run through the model, because ${method.because}.${failed}`;
  }
  const check =
    method.checked === 0
      ? ''
      : `, checked on ${method.checked} draws of the model itself (differs by at most ${printRough(page, method.worstDisagreement, 2)} u)`;
  return `Uncertainties u are standard uncertainties, from ${draws} through the model's second-order response${check}.`;
}
