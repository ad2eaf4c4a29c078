import { fail, nearestName, type Outcome, type Problem, problem, succeed } from '../../problem/index.ts';
import { parseUnit } from '../../quantity/index.ts';
import type { ToldUnit } from './finish-columns.ts';
import { splitHeading } from './heading.ts';
import type { Layout } from './table-layout.ts';
import type { DecimalMark, Delimiter, Overrule } from './trial-table.ts';

/** An overrule whose words are understood. */
export interface Told {
  readonly delimiter: Delimiter | undefined;
  readonly decimal: DecimalMark | undefined;
  readonly encoding: string | undefined;
  readonly headerRows: number | undefined;
  readonly firstRow: number | undefined;
  readonly lastRow: number;
  readonly sheet: string | number | undefined;
  readonly units: Readonly<Record<string, string>>;
  /** Keys that were told, in the words of the lab file. */
  readonly keys: readonly string[];
}

const delimiterWords: ReadonlyMap<string, Delimiter> = new Map<string, Delimiter>([
  [',', ','],
  ['comma', ','],
  [';', ';'],
  ['semicolon', ';'],
  ['\t', '\t'],
  ['\\t', '\t'],
  ['tab', '\t'],
  ['|', '|'],
  ['space', 'space'],
  ['spaces', 'space'],
  [' ', 'space'],
  ['none', 'none'],
]);

/** Understands an overrule; every word that cannot be is a problem of its own. */
export function readOverrule(overrule: Overrule, file: string): Outcome<Told> {
  const problems: Problem[] = [];
  const refuse = (message: string): void => {
    problems.push(problem('bad-overrule', { file }, message));
  };
  const delimiter =
    overrule.delimiter === undefined ? undefined : delimiterWords.get(overrule.delimiter.toLowerCase());
  if (overrule.delimiter !== undefined && delimiter === undefined) {
    refuse(`"${overrule.delimiter}" cannot be a delimiter. Write ",", ";", "|", "tab", "space" or "none".`);
  }
  const decimal =
    overrule.decimalMark === '.' || overrule.decimalMark === ',' ? overrule.decimalMark : undefined;
  if (overrule.decimalMark !== undefined && decimal === undefined) {
    refuse(`"${overrule.decimalMark}" cannot be a decimal mark. Write "." or ",".`);
  }
  const rows: readonly (readonly [string, number | undefined, number])[] = [
    ['header rows', overrule.headerRows, 0],
    ['first row', overrule.firstRow, 1],
    ['last row', overrule.lastRow, overrule.firstRow ?? 1],
  ];
  for (const [key, value, least] of rows) {
    if (value !== undefined && !(Number.isInteger(value) && value >= least)) {
      refuse(`"${key}: ${value}" must be a whole number of at least ${least}.`);
    }
  }
  if (problems.length > 0) return fail(...problems);
  const keys = (
    [
      ['delimiter', overrule.delimiter],
      ['decimal mark', overrule.decimalMark],
      ['encoding', overrule.encoding],
      ['header rows', overrule.headerRows],
      ['first row', overrule.firstRow],
      ['last row', overrule.lastRow],
      ['sheet', overrule.sheet],
      ['units', overrule.units],
    ] as const
  ).flatMap(([key, value]) => (value === undefined ? [] : [key]));
  return succeed({
    delimiter,
    decimal,
    encoding: overrule.encoding,
    headerRows: overrule.headerRows,
    firstRow: overrule.firstRow,
    lastRow: overrule.lastRow ?? Number.POSITIVE_INFINITY,
    sheet: overrule.sheet,
    units: overrule.units ?? {},
    keys,
  });
}

/**
 * Gives the told units to the columns whose heading, or heading without unit, they name.
 *
 * @returns by column of the file, from 0
 */
export function toldUnits(told: Told, layout: Layout, file: string): Outcome<ReadonlyMap<number, ToldUnit>> {
  const units = new Map<number, ToldUnit>();
  const problems: Problem[] = [];
  for (const [heading, text] of Object.entries(told.units)) {
    const columns = layout.headings.flatMap((written, column) => {
      const bare = layout.side.bare[column] ?? '';
      const name = splitHeading(bare).name;
      const position = `column ${column + 1}`;
      return [written, bare, name, position].includes(heading) ? [column] : [];
    });
    if (columns.length === 0) {
      const known = layout.headings.filter((written) => written !== '');
      const near = nearestName(heading, known);
      const advice = near === undefined ? `There are ${listNames(known)}.` : `Did you mean "${near}"?`;
      problems.push(
        problem(
          'unknown-column',
          { file },
          `A unit is told for column "${heading}", which is not there.`,
          advice,
        ),
      );
      continue;
    }
    const unit = text === 'mm:ss' || text === 'hh:mm' ? text : readTold(text, file, problems);
    if (unit !== null) for (const column of columns) units.set(column, unit);
  }
  return problems.length > 0 ? fail(...problems) : succeed(units);
}

function readTold(text: string, file: string, problems: Problem[]): ToldUnit | null {
  const unit = parseUnit(text, { placeAt: () => ({ file }) });
  if (unit.ok) return unit.value;
  problems.push(...unit.problems);
  return null;
}

/** '"a", "b" and "c"', at most twelve of them. */
export function listNames(names: readonly string[]): string {
  if (names.length === 0) return 'no named columns';
  const shown = names.slice(0, 12).map((name) => `"${name}"`);
  if (names.length > shown.length) return `${shown.join(', ')} and ${names.length - shown.length} more`;
  const last = shown.pop() ?? '';
  return shown.length === 0 ? last : `${shown.join(', ')} and ${last}`;
}
