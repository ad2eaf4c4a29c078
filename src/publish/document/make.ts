import type { Tree } from '../../expression/index.ts';
import { fromSI, type Unit } from '../../quantity/index.ts';
import type { Block, Inline, ValueInline } from './tree.ts';

/** Several inlines one after another. */
export type Inlines = readonly Inline[];

/** What may stand in a sentence: words, one inline, or several. */
export type Part = string | number | Inline | Inlines;

/**
 * A sentence with numbers, symbols and words put in: say`The slope is ${value}.`
 *
 * Whole numbers that count something stand as text; a measured number is a `ValueInline`.
 */
export function say(strings: TemplateStringsArray, ...parts: readonly Part[]): Inlines {
  return joinInlines(
    ...strings.flatMap((text, index): Part[] => {
      const part = parts[index];
      // What stands on both sides of an equals sign stays on one line.
      return part === undefined ? [text] : [text.replace(/ = $/u, '\u00a0=\u00a0'), part];
    }),
  );
}

/** Parts as inlines, neighbouring texts joined, empty ones left out. */
export function joinInlines(...parts: readonly Part[]): Inlines {
  const joined: Inline[] = [];
  for (const part of parts.flatMap(inlinesOf)) {
    const last = joined.at(-1);
    if (part.kind === 'text' && last?.kind === 'text')
      joined[joined.length - 1] = { kind: 'text', text: last.text + part.text };
    else if (part.kind !== 'text' || part.text !== '') joined.push(part);
  }
  return joined;
}

function inlinesOf(part: Part): Inlines {
  if (typeof part === 'string' || typeof part === 'number') return [{ kind: 'text', text: String(part) }];
  return 'kind' in part ? [part] : part;
}

/** Parts with `between` from one to the next and `last` before the last: a, b and c. */
export function listInlines(parts: readonly Part[], between: string, last: string = between): Inlines {
  return joinInlines(
    ...parts.flatMap((part, index): Part[] => {
      if (index === 0) return [part];
      return [index === parts.length - 1 ? last : between, part];
    }),
  );
}

/** The first letter of a text made a capital, where the inlines begin with a text. */
export function beginSentence(inlines: Inlines): Inlines {
  const [first, ...rest] = inlines;
  if (first?.kind !== 'text') return inlines;
  return [{ kind: 'text', text: first.text.charAt(0).toUpperCase() + first.text.slice(1) }, ...rest];
}

export function formula(tree: Tree): Inline {
  return { kind: 'formula', tree };
}

export function strong(...parts: readonly Part[]): Inline {
  return { kind: 'strong', inlines: joinInlines(...parts) };
}

export function emphasis(...parts: readonly Part[]): Inline {
  return { kind: 'emphasis', inlines: joinInlines(...parts) };
}

/** Words in another language than the document's; nothing around them where there are none. */
export function inLanguage(language: string, inlines: Inlines): Inlines {
  return inlines.length === 0 ? [] : [{ kind: 'language', language, inlines }];
}

export function blank(characters: number): Inline {
  return { kind: 'blank', characters };
}

/** A place on a scale, given in SI, with its standard uncertainty, printed in `unit`. */
export function point(value: number, standardUncertainty: number, unit: Unit, significant = 4): ValueInline {
  return {
    kind: 'value',
    value: fromSI(value, unit, 'point'),
    standardUncertainty: cleanUncertainty(fromSI(standardUncertainty, unit, 'interval'), value),
    unit,
    significant,
  };
}

/** A difference, given in SI: an uncertainty, a shift, a step. */
export function interval(
  value: number,
  standardUncertainty: number,
  unit: Unit,
  significant = 3,
): ValueInline {
  return {
    kind: 'value',
    value: fromSI(value, unit, 'interval'),
    standardUncertainty: cleanUncertainty(fromSI(standardUncertainty, unit, 'interval'), value),
    unit,
    significant,
  };
}

/** A value that somebody chose or wrote, given in SI: it prints with the digits it has. */
export function chosen(value: number, unit: Unit): ValueInline {
  return { kind: 'value', value: fromSI(value, unit, 'point'), standardUncertainty: 0, unit };
}

/**
 * A value that is known to within `standardUncertainty` but is printed without it; both in SI.
 *
 * @param uncertaintyDigits up to which digit of its uncertainty it is printed: 1 for what is given, 2 where the number
 * stands beside one that is printed with its uncertainty
 */
export function rounded(
  value: number,
  standardUncertainty: number,
  unit: Unit,
  uncertaintyDigits: 1 | 2 = 1,
): ValueInline {
  const shown = chosen(value, unit);
  const u = fromSI(standardUncertainty, unit, 'interval');
  if (!(u > 0) || shown.value === 0) return shown;
  const digits =
    Math.floor(Math.log10(Math.abs(shown.value))) - Math.floor(Math.log10(u)) + uncertaintyDigits;
  return { ...shown, significant: Math.min(Math.max(digits, 1), 12) };
}

/** Numbers of more digits were computed, not written by a person. */
const MOST_WRITTEN_DIGITS = 5;

/** As `rounded`, but a value that somebody wrote keeps all the digits that were written: 0.25 ms is never 0.3 ms. */
export function stated(value: number, standardUncertainty: number, unit: Unit): ValueInline {
  const shown = rounded(value, standardUncertainty, unit);
  const written = Number(shown.value.toPrecision(12))
    .toExponential()
    .replace(/e.*$/u, '')
    .replace(/\D/gu, '').length;
  return shown.significant === undefined || written > MOST_WRITTEN_DIGITS || written <= shown.significant
    ? shown
    : { ...shown, significant: written };
}

/** Uncertainties that are not known, or are rounding in the computer, are none. */
function cleanUncertainty(uncertainty: number, value: number): number {
  return Number.isFinite(uncertainty) && uncertainty > 1e-12 * Math.abs(value) ? uncertainty : 0;
}

/** A number without unit that counts or compares: a percentage, a ratio. */
export function plainNumber(value: number, significant: number): ValueInline {
  return { kind: 'value', value, standardUncertainty: 0, unit: one, significant };
}

/** The unit of a plain number. */
export const one: Unit = { text: '', factor: 1, offset: 0, dimension: [0, 0, 0, 0, 0, 0, 0], angle: 0 };

export function paragraph(...parts: readonly Part[]): Block {
  return { kind: 'paragraph', inlines: joinInlines(...parts) };
}

/** A list whose items are one paragraph each. */
export function list(ordered: boolean, items: readonly Inlines[]): Block {
  return { kind: 'list', ordered, items: items.map((inlines) => [{ kind: 'paragraph', inlines }]) };
}

export function question(inlines: Inlines, lines: number, ...answer: readonly Block[]): Block {
  return { kind: 'question', inlines, lines, answer };
}

export function teacherNote(...blocks: readonly Block[]): Block {
  return { kind: 'teacher note', blocks };
}
