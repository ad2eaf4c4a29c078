import { fail, type Outcome, problem } from '../../problem/index.ts';
import { containerOf } from './container.ts';
import { readSheetTable } from './read-sheet.ts';
import { readTextTable } from './read-text.ts';
import { readOverrule } from './told.ts';
import type { Overrule, TrialTable } from './trial-table.ts';

export interface ReadTrialOptions {
  /** Name of the file, for messages only. */
  readonly file: string;
  readonly overrule?: Overrule | undefined;
  readonly signal?: { readonly aborted: boolean } | undefined;
}

/**
 * Reads the readings of one trial from the bytes of its file: delimited text, .xlsx or .ods.
 *
 * What is not told is detected, always the same way for the same bytes, and said in `recognised` and `notes`.
 * The bytes are never changed; `sha256` is their digest.
 *
 * Fails where the file is empty, is no table, has no line of numbers, where an overrule cannot be obeyed, where
 * an archive would unpack to more than is safe, and where `signal` asked to stop. Cells that are no numbers do
 * not fail: they are NaN, told in `notNumbers` of their column, for the one who uses it to judge.
 */
export async function readTrial(bytes: Uint8Array, options: ReadTrialOptions): Promise<Outcome<TrialTable>> {
  const { file } = options;
  const told = readOverrule(options.overrule ?? {}, file);
  if (!told.ok) return told;
  const refuse = (what: string): Outcome<TrialTable> =>
    fail(
      problem(
        'not-a-table',
        { file },
        `${what} Export the readings as delimited text (.csv, .txt), .xlsx or .ods.`,
      ),
    );
  const container = containerOf(bytes);
  switch (container) {
    case 'empty':
      return fail(
        problem('empty-file', { file }, 'The file is empty; it should hold the readings of a trial.'),
      );
    case 'old office document':
      return refuse('This is an .xls workbook of before 2007, or one locked with a password.');
    case 'gzip':
    case 'pdf':
    case 'picture':
      return refuse(
        `This is a ${container === 'pdf' ? 'PDF document' : container === 'gzip' ? 'gzip archive' : 'picture'}, not a table.`,
      );
    case 'zip':
      return readSheetTable(bytes, file, told.value, options.signal);
    case 'text':
      return readTextTable(bytes, file, told.value, options.signal);
  }
}
