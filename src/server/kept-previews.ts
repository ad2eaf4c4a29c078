import { randomBytes } from 'node:crypto';

/** A document that was made to be looked at. */
export interface Preview {
  readonly lab: string;
  /** Its name with its ending. */
  readonly path: string;
  readonly content: Uint8Array;
}

/** The last previews, each under a word of its own: a frame can show an address, where fonts and pages come along. */
export interface KeptPreviews {
  keep(preview: Preview): string;
  find(word: string): Preview | null;
}

/** Previews that are kept, and bytes of all of them; the oldest go first. */
const MOST_KEPT = 8;
const MOST_BYTES = 64 * 2 ** 20;

export function keepPreviews(): KeptPreviews {
  const kept = new Map<string, Preview>();
  const bytes = (): number => [...kept.values()].reduce((sum, { content }) => sum + content.length, 0);
  return {
    keep(preview) {
      const word = randomBytes(12).toString('hex');
      kept.set(word, preview);
      for (const oldest of [...kept.keys()].slice(0, -1)) {
        if (kept.size <= MOST_KEPT && bytes() <= MOST_BYTES) break;
        kept.delete(oldest);
      }
      return word;
    },
    find: (word) => kept.get(word) ?? null,
  };
}
