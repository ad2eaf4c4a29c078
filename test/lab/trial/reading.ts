import { type Overrule, readTrial, type TrialTable } from '../../../src/lab/trial/index.ts';
import { formatProblem, type Outcome, type Problem } from '../../../src/problem/index.ts';

export function bytesOf(content: string | Uint8Array): Uint8Array {
  return typeof content === 'string' ? new TextEncoder().encode(content) : content;
}

export function tryRead(
  content: string | Uint8Array,
  overrule?: Overrule,
  file = 'trials/a1.csv',
): Promise<Outcome<TrialTable>> {
  return readTrial(bytesOf(content), { file, overrule });
}

/** The table, or a failed test that shows the problems. */
export async function read(content: string | Uint8Array, overrule?: Overrule): Promise<TrialTable> {
  const outcome = await tryRead(content, overrule);
  if (!outcome.ok) throw new Error(outcome.problems.map(formatProblem).join('\n'));
  return outcome.value;
}

/** The problems of a file that cannot be read, as they are printed. */
export async function refusal(
  content: string | Uint8Array,
  overrule?: Overrule,
  file?: string,
): Promise<string[]> {
  const outcome = await tryRead(content, overrule, file);
  return outcome.ok ? [] : outcome.problems.map(formatProblem);
}

/** Values by column, in the order of the columns. */
export function numbers(table: TrialTable): number[][] {
  return table.columns.map((column) => Array.from(column.values));
}

/** 'run|name|unit' of each column. */
export function headings(table: TrialTable): string[] {
  return table.columns.map((column) => `${column.run}|${column.name}|${column.unit?.text ?? ''}`);
}

export function notesOf(table: TrialTable, code: string): string[] {
  return table.notes.filter((note: Problem) => note.code === code).map(formatProblem);
}
