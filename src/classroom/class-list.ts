import type { Lab, LabResult, Setting, TextCells } from '../lab/index.ts';
import { fail, type Outcome, type Problem, problem, succeed } from '../problem/index.ts';
import { parseUnit, sameDimension } from '../quantity/index.ts';
import type { StationOfGroup } from './list-stations.ts';
import type { ReportedNumber } from './mark-report.ts';
import { findStation, readReportedNumber } from './read-reported.ts';

/** One group of a class list: what it reported, or what is wrong with its line. */
export interface ListedReport {
  /** Line of the file, 1-based. */
  readonly line: number;
  readonly group: string;
  readonly station: string;
  readonly set: readonly Setting[];
  /** Empty where the line has problems. */
  readonly numbers: readonly ReportedNumber[];
  /** The numbers as they were written, by the name of the result. */
  readonly written: ReadonlyMap<string, string>;
  readonly problems: readonly Problem[];
}

/** What a column of the list holds. */
type ListColumn =
  | { readonly kind: 'group' | 'station' | 'other' }
  | { readonly kind: 'number' | 'uncertainty'; readonly result: LabResult; readonly unit: string };

/**
 * Reads a class list: a column for the group, one for the station where the lab has several, and one for each result,
 * by its name, with or without a unit: 'k2', 'k2 (1/s^2)', 'u(k2)'.
 *
 * A line that cannot be read keeps no other from being read.
 *
 * @returns fails where no column holds a result
 */
export function readClassList(
  lab: Lab,
  stations: readonly StationOfGroup[],
  { rows }: TextCells,
  file: string,
): Outcome<readonly ListedReport[]> {
  const [heading, ...lines] = rows;
  if (heading === undefined) return fail(problem('empty-list', { file }, 'The file is empty.'));
  const columns: ListColumn[] = [];
  const problems: Problem[] = [];
  for (const cell of heading.cells) {
    const column = readHeading(lab, cell, { file, line: heading.line });
    if (!column.ok) problems.push(...column.problems);
    columns.push(column.ok ? column.value : { kind: 'other' });
  }
  if (problems.length === 0 && !columns.some(({ kind }) => kind === 'number')) {
    const names = lab.results.map(({ name }) => `"${name}"`).join(' or ');
    const message = `No column of the list is headed by a result of this lab; ${names} would be.`;
    const shown = heading.cells.filter((cell) => cell !== '').join(', ');
    problems.push(problem('no-results', { file, line: heading.line }, message, `The headings are ${shown}.`));
  }
  if (problems.length > 0) return fail(...problems);
  // Without a heading for it, the first column that is nothing else names the group.
  const first = columns.findIndex(({ kind }) => kind === 'other');
  if (first >= 0 && !columns.some(({ kind }) => kind === 'group')) columns[first] = { kind: 'group' };
  return succeed(lines.map(({ line, cells }) => readLine(columns, stations, cells, { file, line })));
}

function readHeading(
  lab: Lab,
  cell: string,
  place: { readonly file: string; readonly line: number },
): Outcome<ListColumn> {
  if (/^(group|team|name|student|gruppe)s?$/i.test(cell)) return succeed({ kind: 'group' });
  if (/^(station|place|platz)$/i.test(cell)) return succeed({ kind: 'station' });
  const parts = /^(?:(u)\s*\(\s*([^()\s]+)\s*\)|([^()\s/[\]]+))\s*(?:[([/]\s*(.*?)\s*[)\]]?)?$/u.exec(cell);
  const name = parts?.[2] ?? parts?.[3] ?? '';
  const result = lab.results.find((candidate) => candidate.name === name);
  if (result === undefined) return succeed({ kind: 'other' });
  const unitText = parts?.[4] ?? '';
  const unit = parseUnit(unitText);
  if (!unit.ok || (unitText !== '' && !sameDimension(unit.value.dimension, result.unit.dimension))) {
    const message = `The column "${cell}" is in "${unitText}", in which ${name} cannot be given.`;
    return fail(problem('wrong-dimension', place, message, `Its unit is ${result.unit.text}.`));
  }
  return succeed({ kind: parts?.[1] === undefined ? 'number' : 'uncertainty', result, unit: unitText });
}

function readLine(
  columns: readonly ListColumn[],
  stations: readonly StationOfGroup[],
  cells: readonly string[],
  place: { readonly file: string; readonly line: number },
): ListedReport {
  const cellOf = (kind: ListColumn['kind']) => {
    const index = columns.findIndex((column) => column.kind === kind);
    return index < 0 ? '' : (cells[index] ?? '');
  };
  const station = cellOf('station');
  const set = findStation(stations, station, place);
  const problems: Problem[] = set.ok ? [] : [...set.problems];
  const written = new Map<string, string>();
  const numbers = columns.flatMap((column, index): ReportedNumber[] => {
    if (column.kind !== 'number') return [];
    const cell = cells[index] ?? '';
    const { result } = column;
    written.set(result.name, cell);
    if (cell === '') return [];
    const own = columns.findIndex((other) => other.kind === 'uncertainty' && other.result === result);
    const u = own < 0 || (cells[own] ?? '') === '' ? null : withUnit(cells[own] ?? '', columns[own]);
    const number = readReportedNumber(result, withUnit(cell, column), u, place);
    if (!number.ok) problems.push(...number.problems);
    return number.ok ? [number.value] : [];
  });
  if (problems.length === 0 && numbers.length === 0)
    problems.push(problem('nothing-reported', place, 'This line reports no number.'));
  return {
    line: place.line,
    group: cellOf('group'),
    station,
    set: set.ok ? set.value : [],
    numbers: problems.length > 0 ? [] : numbers,
    written,
    problems,
  };
}

/** A cell without a unit of its own is in that of its heading. */
function withUnit(cell: string, column: ListColumn | undefined): string {
  const unit = column?.kind === 'number' || column?.kind === 'uncertainty' ? column.unit : '';
  return unit === '' || /[^\d\s.,+\-−eE×·*^]/.test(cell) ? cell : `${cell} ${unit}`;
}
