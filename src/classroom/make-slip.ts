import type { Lab, Slip, WrittenChange } from '../lab/index.ts';

/** What a slip is called, what goes wrong, and the sentence that helps. */
export type SlipWords = Pick<Slip, 'name' | 'is' | 'helps'>;

/** What a slip is made of when the program makes it; what is left out changes nothing. */
export type SlipParts = SlipWords &
  Partial<Pick<Slip, 'set' | 'apparatus' | 'readings' | 'reduction' | 'reported'>>;

/** A slip of the general set. */
export function makeSlip(lab: Lab, parts: SlipParts): Slip {
  return {
    set: [],
    apparatus: [],
    readings: null,
    reduction: null,
    reported: [],
    place: { file: lab.file, step: `slip "${parts.name}"` },
    ...parts,
  };
}

/** A slip by changed settings or steps; none where they do not fit the lab. */
export function toldSlip(lab: Lab, change: WrittenChange, words: SlipWords): readonly Slip[] {
  const reduction = lab.tell(change, `slip "${words.name}"`);
  return reduction.ok ? [makeSlip(lab, { ...words, reduction: reduction.value })] : [];
}
