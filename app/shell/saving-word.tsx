import type { Saving } from '../bench/bench-state.ts';
import { useBenchState } from '../bench/use-bench.tsx';

const WORDS: Readonly<Record<Saving['kind'], string>> = {
  saved: 'in the file',
  saving: 'writing …',
  waiting: 'waits for the server',
  'kept here': 'kept in this browser',
  refused: 'not written',
};

/** Where the edits are, in two words. */
export function SavingWord() {
  const kind = useBenchState(({ saving }) => saving.kind);
  return (
    <span className="saving" data-kind={kind} role="status">
      {WORDS[kind]}
    </span>
  );
}
