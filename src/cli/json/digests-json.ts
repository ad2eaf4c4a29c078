import type { TrialRun } from '../../lab/index.ts';

/** SHA-256 of every raw file, by its name in the lab's folder. */
export function digestsToJson(runs: readonly TrialRun[]): Readonly<Record<string, string>> {
  return Object.fromEntries(runs.map(({ entry, sha256 }) => [entry.file, sha256]));
}
