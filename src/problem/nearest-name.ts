import { distance } from 'fastest-levenshtein';

/**
 * The known name that a mistyped one most likely means, or undefined where none is close.
 *
 * Close means at most one edit for every three characters, and at least one: "efects" is "effects". Letters in
 * another order count as one edit, since fingers swap them more often than they miss them: "valeu" is "value".
 */
export function nearestName(name: string, known: Iterable<string>): string | undefined {
  const limit = Math.max(1, Math.floor(name.length / 3));
  let best: string | undefined;
  let least = limit + 1;
  for (const candidate of known) {
    const edits = countEdits(name.toLowerCase(), candidate.toLowerCase());
    if (edits < least) {
      least = edits;
      best = candidate;
    }
  }
  return best;
}

function countEdits(name: string, candidate: string): number {
  const edits = distance(name, candidate);
  return edits > 1 && sortLetters(name) === sortLetters(candidate) ? 1 : edits;
}

function sortLetters(name: string): string {
  return [...name].sort().join('');
}
