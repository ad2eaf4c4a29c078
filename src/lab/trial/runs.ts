import type { RunLayout } from './trial-table.ts';

/** Which column belongs to which of the runs that stand side by side. */
export interface SideBySide {
  readonly runs: number;
  readonly by: RunLayout | null;
  /** Per column: its run, from 1. */
  readonly run: readonly number[];
  /** Per column: the heading without label or number of the run. */
  readonly bare: readonly string[];
  /** Per run: its label as written, '' where there is none. */
  readonly labels: readonly string[];
}

const runWord =
  '(?:run|trial|series|set|take|measurement|messung|versuch|lauf|reihe|messreihe|durchgang|essai|série|serie|mesure|toma|ensayo|prueba|medida|prova|misura|corsa|meting|proef|forsøk|måling|mätning|försök)';
const label = `${runWord}\\s*(?:#|no\\.?|nr\\.?|n°|№)?\\s*[(\\[]?\\d{1,4}(?!\\d)[)\\]]?`;
const onlyLabel = new RegExp(`^(?:${label})\\s*[:.]?$`, 'i');
const labelFirst = new RegExp(`^(${label})\\s*[:.,;|/–—-]?\\s*([^\\s(\\[{].*)$`, 'i');
const labelLast = new RegExp(`^(.+?)\\s*[:.,;|/–—-]?\\s*[(\\[]?(${label})[)\\]]?$`, 'i');

/** Whether a text is a run's label and nothing else: 'Run 2', 'Messung #3:'. */
export function isRunLabel(text: string): boolean {
  return onlyLabel.test(text.trim());
}

/**
 * Tells runs side by side apart, by the first of these that the headings show: a row of labels above them, a
 * label in each heading, the same headings again, or numbers behind headings of which at least two differ
 * (t1 x1 t2 x2; but t1 t2 x1 x2 are two gates of one run).
 *
 * A column without a run of its own, such as a time axis that all share, belongs to run 1.
 *
 * @param headings one a column, '' where there is none
 * @param units the row of units, '' where there is none: headings with different units are different
 * @param groups the row of labels, or null
 */
export function tellRunsApart(
  headings: readonly string[],
  units: readonly string[],
  groups: readonly string[] | null,
): SideBySide {
  return (
    byRowOfLabels(headings, groups) ??
    byLabel(headings) ??
    byRepeats(headings, units) ??
    byNumbers(headings) ?? {
      runs: 1,
      by: null,
      run: headings.map(() => 1),
      bare: headings,
      labels: [''],
    }
  );
}

function byRowOfLabels(headings: readonly string[], groups: readonly string[] | null): SideBySide | null {
  if (groups === null) return null;
  const found: (string | null)[] = [];
  let current: string | null = null;
  for (let column = 0; column < headings.length; column++) {
    if ((groups[column] ?? '') !== '') current = groups[column] ?? null;
    found.push(headings[column] === '' ? null : current);
  }
  return fromLabels(found, headings, 'row of labels');
}

function byLabel(headings: readonly string[]): SideBySide | null {
  const found: (string | null)[] = [];
  const bare = headings.map((heading, column) => {
    const first = labelFirst.exec(heading);
    const last = first === null ? labelLast.exec(heading) : null;
    found[column] = first?.[1] ?? last?.[2] ?? null;
    const rest = first?.[2] ?? last?.[1];
    return rest === undefined ? heading : rest.trim();
  });
  return fromLabels(found, bare, 'label in the heading');
}

function fromLabels(
  found: readonly (string | null)[],
  bare: readonly string[],
  by: RunLayout,
): SideBySide | null {
  const labels: string[] = [];
  for (const text of found) if (text !== null && !labels.includes(text)) labels.push(text);
  if (labels.length === 0) return null;
  const run = found.map((text) => (text === null ? 1 : labels.indexOf(text) + 1));
  return { runs: labels.length, by, run, bare, labels };
}

function byRepeats(headings: readonly string[], units: readonly string[]): SideBySide | null {
  const seen = new Map<string, number>();
  const run = headings.map((heading, column) => {
    if (heading === '') return 1;
    const key = `${heading}\t${units[column] ?? ''}`;
    const times = (seen.get(key) ?? 0) + 1;
    seen.set(key, times);
    return times;
  });
  const runs = Math.max(1, ...run);
  if (runs === 1) return null;
  return { runs, by: 'repeated headings', run, bare: headings, labels: Array<string>(runs).fill('') };
}

/** 'Time 2 (s)', 'Time (s) 2', 'Time (s).1', 't_2', 'x2' → heading without number, and the number. */
function takeNumber(heading: string): { bare: string; number: number } | null {
  const bracket = /^(.*?\S)[\s_.#-]*\(?(\d{1,3})\)?(\s*[([{].*[)\]}]|\s*\/.*)$/.exec(heading);
  const end = /^(.*?[^\s\d_.#(-])[\s_.#-]*\(?(\d{1,3})\)?$/.exec(heading);
  const match = end ?? bracket;
  if (match === null) return null;
  return { bare: `${match[1] ?? ''}${match[3] ?? ''}`, number: Number(match[2]) };
}

function byNumbers(headings: readonly string[]): SideBySide | null {
  const numbered = headings.map(takeNumber);
  const bases = new Set(numbered.flatMap((found) => (found === null ? [] : [found.bare])));
  // A heading without a number beside numbered ones of the same words is the first of them.
  const parts = headings.map((heading, column) => {
    const found = numbered[column] ?? null;
    return found ?? (bases.has(heading) ? { bare: heading, number: 0 } : null);
  });
  const numbersOf = new Map<string, number[]>();
  for (const part of parts) {
    if (part !== null) numbersOf.set(part.bare, [...(numbersOf.get(part.bare) ?? []), part.number]);
  }
  const repeated = [...numbersOf].filter(([, numbers]) => numbers.length > 1);
  const sequence = repeated[0]?.[1] ?? [];
  const same = repeated.every(([, numbers]) => numbers.join() === sequence.join());
  if (repeated.length < 2 || !same || !countsUp(sequence)) return null;
  const isRun = new Set(repeated.map(([base]) => base));
  const taken = parts.map((part) => (part !== null && isRun.has(part.bare) ? part : null));
  const run = taken.map((part) => (part === null ? 1 : sequence.indexOf(part.number) + 1));
  const order = run.filter((_, column) => taken[column] !== null);
  if (order.some((value, index) => index > 0 && value < (order[index - 1] ?? 0))) return null;
  return {
    runs: sequence.length,
    by: 'numbered headings',
    run,
    bare: headings.map((heading, column) => taken[column]?.bare ?? heading),
    labels: sequence.map((number) => (number === 0 ? '' : String(number))),
  };
}

/** 1 2 3, 0 1 2, or 0 2 3 where the first bears no number. */
function countsUp(numbers: readonly number[]): boolean {
  return numbers.every((number, index) => {
    const before = numbers[index - 1];
    if (before === undefined) return number <= 1;
    return number === before + 1 || (index === 1 && before === 0 && number === 2);
  });
}
