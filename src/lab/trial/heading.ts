import { parseUnit, type Unit } from '../../quantity/index.ts';
import { unitWords } from './unit-words.ts';

/** A heading taken apart. */
export interface HeadingParts {
  /** Without the unit; the whole heading where it names none. */
  readonly name: string;
  readonly unit: Unit | null;
  /** What stands in the unit's place, in brackets, and is not a unit known here; else null. */
  readonly unknownUnit: string | null;
}

/**
 * Splits a heading into name and unit.
 *
 * Forms: 'time (s)', 'time [s]', 't / s' and 'a/(m/s²)' (ISO 80000-1, 6.5.5: a symbol divided by the unit),
 * 'Zeit in s', 'time, s'. A number in brackets is no unit.
 */
export function splitHeading(heading: string): HeadingParts {
  const text = heading.replace(/\s+/g, ' ').trim();
  const bracket = lastBracket(text);
  if (bracket !== null) {
    const unit = readUnitText(bracket.inside);
    if (unit !== null)
      return { name: bracket.before === '' ? text : bracket.before, unit, unknownUnit: null };
  }
  const slash = text.indexOf('/');
  if (slash > 0) {
    const unit = readUnitText(text.slice(slash + 1));
    const name = text.slice(0, slash).trim();
    if (unit !== null && name !== '') return { name, unit, unknownUnit: null };
  }
  const word = /^(.+?)(?:,| in| en) ?(\S+)$/.exec(text);
  if (word?.[1] !== undefined && word[2] !== undefined && bracket === null) {
    const unit = readUnitText(word[2]);
    if (unit !== null) return { name: word[1].trim(), unit, unknownUnit: null };
  }
  const looksLikeUnit = bracket !== null && /^[^\s\d][^\s]{0,9}$/.test(bracket.inside);
  return { name: text, unit: null, unknownUnit: looksLikeUnit ? bracket.inside : null };
}

/**
 * The unit that a text means, brackets around it or not; null where it means none.
 *
 * An empty text and a bare number mean none.
 */
export function readUnitText(text: string): Unit | null {
  const bare = stripBrackets(text.trim());
  if (bare === '' || /^[\d.,+-]+$/.test(bare) || bare.length > 40) return null;
  const found = parseUnit(unitWords.get(bare.toLowerCase()) ?? bare);
  return found.ok ? found.value : null;
}

/** The text inside the brackets where one pair of them surrounds all of it. */
export function stripBrackets(text: string): string {
  const bracket = lastBracket(text);
  return bracket !== null && bracket.before === '' ? bracket.inside : text;
}

const partner: Readonly<Record<string, string>> = { ')': '(', ']': '[', '}': '{', '>': '<' };

function lastBracket(text: string): { before: string; inside: string } | null {
  const close = text.at(-1) ?? '';
  const open = partner[close];
  if (open === undefined) return null;
  let depth = 0;
  for (let at = text.length - 1; at >= 0; at--) {
    if (text[at] === close) depth++;
    else if (text[at] === open) depth--;
    if (depth === 0) {
      return { before: text.slice(0, at).replace(/[\s_:/]+$/, ''), inside: text.slice(at + 1, -1).trim() };
    }
  }
  return null;
}
