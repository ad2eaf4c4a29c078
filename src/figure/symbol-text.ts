import { greekLetters } from './greek-letters.ts';
import type { RichText, Run } from './rich-text.ts';

const LOWERED_DIGITS = '₀₁₂₃₄₅₆₇₈₉';

/**
 * A symbol as it is set: letter in italics, index lowered, Greek by its letter (ISO 80000-1, 7.1).
 *
 * `m_c` is m with index c, `theta_0` and `θ₀` are θ with index 0, `k2` is k with index 2, `F_max` is F with an
 * upright index max. Derivatives with respect to time bear primes.
 */
export function symbolText(name: string, primes = 0): RichText {
  const [letter, ...indices] = splitSymbol(name);
  const base: Run[] = [setWord(letter, 'base')];
  if (primes > 0) base.push({ text: '\u2032'.repeat(primes), style: 'upright', level: 'base' });
  indices.forEach((index, position) => {
    if (position > 0) base.push({ text: ',', style: 'upright', level: 'lowered' });
    base.push(setWord(index, 'lowered'));
  });
  return base;
}

function splitSymbol(name: string): readonly [string, ...string[]] {
  const spelled = name.replace(
    /[₀-₉]+/gu,
    (digits) => `_${Array.from(digits, (digit) => LOWERED_DIGITS.indexOf(digit)).join('')}`,
  );
  const [first = name, ...rest] = spelled.split('_').filter((part) => part !== '');
  const digits = /^(\p{L}+)(\p{Nd}+)$/u.exec(first);
  return digits === null ? [first, ...rest] : [digits[1], digits[2], ...rest];
}

/** One letter is a quantity and italic, a number or a word is upright. */
function setWord(word: string, level: Run['level']): Run {
  const text = greekLetters.get(word) ?? word;
  const isLetter = Array.from(text).length === 1 && /\p{L}/u.test(text);
  return { text, style: isLetter ? 'italic' : 'upright', level };
}
