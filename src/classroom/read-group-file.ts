import type { Readings } from '../instrument/index.ts';
import { type Lab, readTrial } from '../lab/index.ts';
import { fail, type Outcome, succeed } from '../problem/index.ts';
import { readingsOfTable, runsIn } from './readings-of-table.ts';

/**
 * The runs of a file that a group brings, each as readings of the lab's instruments.
 *
 * @param file its name, for messages
 * @returns fails where it is no table, or of another experiment
 */
export async function readGroupFile(
  lab: Lab,
  bytes: Uint8Array,
  file: string,
  signal: { readonly aborted: boolean } = { aborted: false },
): Promise<Outcome<readonly (readonly Readings[])[]>> {
  const table = await readTrial(bytes, { file, signal });
  if (!table.ok) return table;
  const runs = runsIn(table.value).map((run) => readingsOfTable(lab, table.value, run));
  // What is wrong with one run is mostly wrong with all.
  const problems = runs.flatMap((run) => (run.ok ? [] : run.problems));
  if (problems.length > 0) return fail(...problems.slice(0, 1));
  return succeed(
    runs.flatMap((run) => (run.ok ? [run.value] : [])),
    table.value.notes,
  );
}
