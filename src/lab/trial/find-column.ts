import {
  fail,
  nearestName,
  type Outcome,
  type Problem,
  problem,
  succeed,
  warning,
} from '../../problem/index.ts';
import { listNames } from './told.ts';
import type { TableColumn, TrialTable } from './trial-table.ts';

/**
 * The column that a lab file means by a heading.
 *
 * Taken is, in this order: the whole heading; the heading with the label of its run before it
 * ('Run 2: time (s)'); the name without unit; 'column 3'. Large and small letters, and blanks, are told apart
 * only where that decides.
 *
 * @param run from 1; without it run 1 is taken where several have such a column (with a warning). A column that
 *   all runs share is found for each.
 *
 * Fails with the nearest heading and all that exist; says so where the column is one of words.
 */
export function findColumn(table: TrialTable, wanted: string, run?: number): Outcome<TableColumn> {
  const forms: readonly ((column: TableColumn) => string)[] = [
    (column) => column.heading,
    (column) => labelled(table, column, column.heading),
    (column) => labelled(table, column, column.name),
    (column) => column.name,
    (column) => `column ${column.position}`,
  ];
  for (const sameText of [same, alike]) {
    for (const form of forms) {
      const found = table.columns.filter((column) => sameText(form(column), wanted));
      const chosen = choose(found, run);
      if (chosen !== undefined) return succeed(chosen, ambiguity(found, chosen, run, wanted, table));
    }
  }
  return fail(notThere(table, wanted, run));
}

function same(a: string, b: string): boolean {
  return a === b;
}

function alike(a: string, b: string): boolean {
  return a.replace(/\s+/g, '').toLowerCase() === b.replace(/\s+/g, '').toLowerCase();
}

function labelled(table: TrialTable, column: TableColumn, heading: string): string {
  const label = table.recognised.runLabels[column.run - 1] ?? '';
  return label === '' ? `Run ${column.run}: ${heading}` : `${label}: ${heading}`;
}

function choose(found: readonly TableColumn[], run: number | undefined): TableColumn | undefined {
  if (run === undefined) return found[0];
  return found.find((column) => column.run === run) ?? (found.length === 1 ? found[0] : undefined);
}

function ambiguity(
  found: readonly TableColumn[],
  chosen: TableColumn,
  run: number | undefined,
  wanted: string,
  table: TrialTable,
): Problem[] {
  if (found.length < 2 || run !== undefined) return [];
  const next = found.find((column) => column !== chosen) ?? chosen;
  const message = `${found.length} columns answer to "${wanted}"; that of run ${chosen.run} was taken (column ${chosen.position} of the file).`;
  return [
    warning(
      'several-columns',
      { file: table.file },
      message,
      `For another, write "${labelled(table, next, next.heading)}".`,
    ),
  ];
}

function notThere(table: TrialTable, wanted: string, run: number | undefined): Problem {
  const words = table.recognised.textColumns.find((column) => alike(column.heading, wanted));
  if (words !== undefined) {
    const message = `Column "${words.heading}" holds words (${listNames(words.examples)}), not numbers.`;
    return problem('column-of-words', { file: table.file }, message);
  }
  const columns = run === undefined ? table.columns : table.columns.filter((column) => column.run === run);
  const headings = [...new Set(columns.map((column) => column.heading))];
  const where = run === undefined ? '' : ` in run ${run}`;
  const near = nearestName(wanted, [...headings, ...columns.map((column) => column.name)]);
  const advice = near === undefined ? '' : ` Did you mean "${near}"?`;
  return problem(
    'unknown-column',
    { file: table.file },
    `There is no column "${wanted}"${where}. There are ${listNames(headings)}.${advice}`,
  );
}
