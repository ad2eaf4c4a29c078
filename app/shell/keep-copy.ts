import type { BenchStore } from '../bench/bench-store.ts';
import { createLab } from '../link/server.ts';
import { goTo } from './route.ts';

/**
 * Copies a lab that came with the program into a folder of one's own, with the changes made to it, and goes there.
 *
 * @returns a sentence on why it failed, or null
 */
export async function keepCopy(bench: BenchStore, stage: string): Promise<string | null> {
  const { id, folder } = bench.getState();
  const made = await createLab(id, `my-${folder.split('/').at(-1) ?? 'lab'}`);
  if (made.kind === 'unreachable') return 'The server does not answer.';
  if (made.kind !== 'ok') return made.kind === 'refused' ? (made.problems[0]?.message ?? '') : '';
  const written = await bench.copyInto(made.value.id);
  if (written !== null) return written;
  goTo({ kind: 'lab', id: made.value.id, stage });
  return null;
}
