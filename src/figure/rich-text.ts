/** A stretch of text set in one way. Raised and lowered stretches are smaller: exponents and indices. */
export interface Run {
  readonly text: string;
  readonly style: 'upright' | 'italic';
  readonly level: 'base' | 'raised' | 'lowered';
}

/** A line of text with exponents, indices and symbols in italics. */
export type RichText = readonly Run[];

const RAISED = '⁰¹²³⁴⁵⁶⁷⁸⁹⁺⁻';
const LOWERED = '₀₁₂₃₄₅₆₇₈₉₊₋';
const PLAIN = '0123456789+\u2212';

export function upright(text: string): RichText {
  return text === '' ? [] : [{ text, style: 'upright', level: 'base' }];
}

export function italic(text: string): RichText {
  return text === '' ? [] : [{ text, style: 'italic', level: 'base' }];
}

/**
 * Upright text whose superscript and subscript digits are set as raised and lowered runs: fonts often lack some of
 * these characters, and those that have them draw them unlike one another. `m²/s²` becomes m, raised 2, /s, raised 2.
 */
export function fromText(text: string): RichText {
  const runs: Run[] = [];
  for (const character of text) {
    const raised = RAISED.indexOf(character);
    const lowered = LOWERED.indexOf(character);
    const level = raised >= 0 ? 'raised' : lowered >= 0 ? 'lowered' : 'base';
    const plain = level === 'base' ? character : PLAIN.charAt(Math.max(raised, lowered));
    const last = runs.at(-1);
    if (last !== undefined && last.level === level)
      runs[runs.length - 1] = { ...last, text: last.text + plain };
    else runs.push({ text: plain, style: 'upright', level });
  }
  return runs;
}

export function joinText(...parts: readonly (string | RichText)[]): RichText {
  const joined: Run[] = [];
  for (const run of parts.flatMap((part) => (typeof part === 'string' ? fromText(part) : part))) {
    const last = joined.at(-1);
    if (last !== undefined && last.style === run.style && last.level === run.level)
      joined[joined.length - 1] = { ...last, text: last.text + run.text };
    else joined.push(run);
  }
  return joined;
}

/** All runs on one level; what is raised or lowered already stays as it is. */
export function atLevel(text: RichText, level: 'raised' | 'lowered'): RichText {
  return text.map((run) => (run.level === 'base' ? { ...run, level } : run));
}

/** The text without setting, for alternative texts and tables: v², k2, m_c. */
export function plainText(text: RichText): string {
  return text
    .map(({ text: part, level }) => {
      if (level === 'base') return part;
      const digits = level === 'raised' ? RAISED : LOWERED;
      const small = Array.from(part, (character) => {
        const index = PLAIN.indexOf(character === '-' ? '\u2212' : character);
        return index < 0 ? '' : digits.charAt(index);
      });
      if (level === 'raised') return small.every((each) => each !== '') ? small.join('') : `^(${part})`;
      return /^\d+$/.test(part) ? part : `_${part}`;
    })
    .join('');
}
