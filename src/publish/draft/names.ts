import { isCondition, isSymbol, namesIn, parseExpression, type Tree } from '../../expression/index.ts';
import type { BaseQuantity, LabResult, Quantity, Setting } from '../../lab/index.ts';
import { coherentUnit, formatUnit, parseUnit, type Unit } from '../../quantity/index.ts';
import {
  formula,
  type Inline,
  type Inlines,
  inLanguage,
  joinInlines,
  listInlines,
  say,
  stated,
} from '../document/index.ts';
import type { Gathered } from '../gather/index.ts';
import type { Phrases } from '../language/index.ts';
import { uncertaintyOf } from './numbers.ts';

/** Ways to name and set what a lab holds. */
export interface Names {
  symbol(name: string): Inline;
  /** An expression as the lab file writes it, set as a formula; as words where it is none. */
  expression(text: string): Inlines;
  /** An author's words, with the symbols and formulas in them set as such. */
  words(text: string): Inlines;
  /** 'slope of v² against x² (k2)'; the symbol alone where the lab says no more. */
  result(result: LabResult): Inlines;
  /** The unit that a quantity is printed in. */
  unitOf(quantity: Quantity): Unit;
  unitText(quantity: Quantity): string;
  /** A value of a given quantity with the digits that its uncertainty leaves it. */
  given(quantity: BaseQuantity, value: number): Inline;
  /** 'L = 0.9 m, m_t = 250 g'; 'as given' where nothing is set. */
  settings(settings: readonly Setting[]): Inlines;
}

/** A piece of a text that may be a formula: symbols, numbers and signs, nothing else. */
const MAYBE_FORMULA =
  /[\p{L}_][\p{L}\p{N}_]*'*(?:\s*(?:[*/^+\-=<>]|<=|>=)\s*[\p{L}\p{N}_.()]+(?:\([^()]*\))?'*)*|\d[\d.]*(?:\s*[*/^]\s*[\p{L}\p{N}_.()]+)+/gu;

/** Greek letters by name: in a lab they are symbols. */
const GREEK: ReadonlySet<string> = new Set(
  'alpha beta gamma delta epsilon zeta eta theta kappa lambda mu nu xi rho sigma tau phi chi psi omega'.split(
    ' ',
  ),
);

/** Letters that are also words of a language. */
const ALSO_WORDS: ReadonlySet<string> = new Set(['a', 'A', 'I']);

/**
 * @param foreign the language of the lab's own words where the document speaks another
 * @param translated words of the lab that were put into the document's language
 */
export function createNames(
  { pipeline }: Gathered,
  phrases: Phrases,
  foreign: string | null,
  translated: ReadonlySet<string>,
): Names {
  const { lab } = pipeline;
  const known = new Set<string>([
    ...lab.quantities.byName.keys(),
    ...lab.results.map(({ name }) => name),
    ...lab.eachRun.columns.keys(),
    ...lab.eachRun.scalars.keys(),
    ...statesOf(lab.model),
  ]);
  const names: Names = {
    symbol: (name) => formula(nameTree(name)),
    expression(text) {
      const parsed = parseExpression(text);
      return parsed.ok ? [formula(parsed.value.tree)] : joinInlines(text);
    },
    words(text) {
      const set = setFormulas(text, known);
      return foreign === null || translated.has(bareWords(text)) ? set : inLanguage(foreign, set);
    },
    result({ name, is }) {
      return is === ''
        ? [names.symbol(name)]
        : phrases.background.resultAs(names.words(is), names.symbol(name));
    },
    unitOf: (quantity) => quantity.unit ?? coherentUnit(quantity.dimension),
    unitText: (quantity) => formatUnit(names.unitOf(quantity)),
    given: (quantity, value) => stated(value, uncertaintyOf(quantity), quantity.unit),
    settings(settings) {
      if (settings.length === 0) return joinInlines(phrases.documents.asGiven);
      return listInlines(
        settings.map(
          ({ quantity, value }) =>
            say`${names.symbol(quantity.name)}\u00a0=\u00a0${stated(value, uncertaintyOf(quantity), quantity.unit)}`,
        ),
        ', ',
      );
    },
  };
  return names;
}

/** Words without the line breaks and double spaces that a file has between them. */
export function bareWords(text: string): string {
  return text.replace(/\s+/gu, ' ').trim();
}

/** The tree of one symbol. */
export function nameTree(name: string, primes = 0): Tree {
  return { kind: 'name', name, primes, span: { start: 0, end: name.length } };
}

function statesOf(model: Gathered['pipeline']['lab']['model']): readonly string[] {
  if (model.kind === 'motion') return model.model.stateNames;
  return model.kind === 'relation' ? [model.relation.control, model.relation.output] : [];
}

/**
 * A text with what is a formula in it set as one.
 *
 * A piece counts as a formula where all its names are the lab's, and it is more than a word: an operation, an index,
 * or a single letter that is no word of its own.
 */
function setFormulas(text: string, known: ReadonlySet<string>): Inlines {
  const parts: (string | Inline)[] = [];
  let done = 0;
  const keep = (words: string): string => words.replace(BEFORE_UNIT, keepTogether);
  for (const match of text.matchAll(MAYBE_FORMULA)) {
    const piece = trimPiece(match[0]);
    const before = text.slice(0, match.index);
    if (isUnitOfNumber(piece, before) || isEndOfWord(piece, before)) continue;
    const set = setPiece(piece, known);
    if (set === null) continue;
    parts.push(keep(text.slice(done, match.index)), ...set);
    done = match.index + piece.length;
  }
  return joinInlines(...parts, keep(text.slice(done)));
}

/** A number, a space, and what may be a unit. */
const BEFORE_UNIT = /(?<=\d) (?=([\p{L}°%µΩ][\p{L}\p{N}°µ·/^⁻²³]*))/gu;

/** In '4 g too much' or '80 °C' the letter is no symbol of the lab, whatever the lab calls by it. */
function isUnitOfNumber(piece: string, before: string): boolean {
  return /°$/u.test(before) || (/\d\s?$/u.test(before) && parseUnit(piece).ok);
}

/** In 'the meter's scale' the s is no symbol of the lab. */
function isEndOfWord(piece: string, before: string): boolean {
  return /\p{L}['\u2019]$/u.test(before) && /^\p{L}+$/u.test(piece);
}

/** Number and unit never part at a line's end. */
function keepTogether(space: string, word: string): string {
  return word === '%' || parseUnit(word).ok ? '\u00a0' : space;
}

/** A bracket that closes nothing belongs to the sentence. */
function trimPiece(piece: string): string {
  let open = 0;
  for (const [index, sign] of [...piece].entries()) {
    if (sign === '(') open += 1;
    if (sign === ')') open -= 1;
    if (open < 0) return piece.slice(0, index).trimEnd();
  }
  return piece.replace(/[.,]+$/u, '');
}

function setPiece(piece: string, known: ReadonlySet<string>): readonly (string | Inline)[] | null {
  const sides = piece.split(/(\s*(?<![<>])=\s*)/u);
  const set: (string | Inline)[] = [];
  for (const side of sides) {
    if (/^\s*=\s*$/u.test(side)) {
      set.push('\u00a0=\u00a0');
      continue;
    }
    const parsed = parseExpression(side);
    if (!parsed.ok || isCondition(parsed.value.tree)) return null;
    const { tree } = parsed.value;
    if (![...namesIn(tree)].every((name) => known.has(name))) return null;
    if (sides.length === 1 && !isMoreThanAWord(tree, side)) return null;
    set.push(formula(tree));
  }
  return set;
}

function isMoreThanAWord(tree: Tree, text: string): boolean {
  if (tree.kind === 'number') return false;
  if (tree.kind !== 'name') return true;
  if (!isSymbol(text.replace(/'+$/u, ''))) return false;
  return (
    tree.primes > 0 ||
    GREEK.has(text) ||
    text.includes('_') ||
    /\d$/u.test(text) ||
    ([...text].length === 1 && !ALSO_WORDS.has(text))
  );
}
