import type { Origin, Outcome } from '../problem/index.ts';
import { fail, problem, succeed } from '../problem/index.ts';
import { MAX_TEXT_LENGTH } from './limits.ts';
import type { Span } from './tree.ts';

/**
 * A word of the language.
 *
 * - `number`: a plain decimal number; `exponent`: a raised number such as ² or ⁻¹
 * - `name`: a symbol, a function or one of and, or, not
 * - `primes`: ' or ″ directly behind a name
 * - `sign`: an operator, bracket, comma, or ° and % of units; typographic variants have become the plain sign
 */
export type Token =
  | { readonly kind: 'number'; readonly value: number; readonly span: Span }
  | { readonly kind: 'exponent'; readonly value: number; readonly span: Span }
  | { readonly kind: 'name'; readonly text: string; readonly span: Span }
  | { readonly kind: 'primes'; readonly count: number; readonly span: Span }
  | { readonly kind: 'sign'; readonly text: string; readonly span: Span }
  | { readonly kind: 'end'; readonly span: Span };

const SPACE = /\s+/uy;
const NUMBER = /(?:[0-9]+(?:\.[0-9]*)?|\.[0-9]+)(?:[eE][+-]?[0-9]+)?/uy;
const NAME = /[\p{L}_][\p{L}\p{Nd}_\u2080-\u2089]*/uy;
const RAISED = /[⁺⁻]?[⁰¹²³⁴⁵⁶⁷⁸⁹]+/uy;
const PRIMES = /['’′″‴]+/uy;
const SIGN = /<=|>=|[-+*/^(),<>=°%×·⋅∙−÷≤≥]/uy;

/** The word operators: no symbol and no unit can bear these names. */
const WORDS: ReadonlySet<string> = new Set(['and', 'or', 'not']);

const PLAIN_SIGN: ReadonlyMap<string, string> = new Map([
  ['×', '*'],
  ['·', '*'],
  ['⋅', '*'],
  ['∙', '*'],
  ['÷', '/'],
  ['−', '-'],
  ['≤', '<='],
  ['≥', '>='],
]);

const PRIME_COUNT: ReadonlyMap<string, number> = new Map([
  ['″', 2],
  ['‴', 3],
]);

/** Signs of other notations, and what stands for them here. */
const FOREIGN: readonly (readonly [RegExp, string])[] = [
  [/\*\*/uy, 'A power is written with ^: x^2.'],
  [/&&?/uy, 'Two conditions are joined with "and".'],
  [/\|\|/uy, 'Two conditions are joined with "or".'],
  [/\|/uy, 'The absolute value is written abs(x).'],
  [/!=|<>|≠/uy, 'Values that are measured or computed are compared with <, <=, > or >=.'],
  [/!/uy, 'A condition is turned round with "not".'],
  [/==/uy, 'Values that are measured or computed are compared with <, <=, > or >=.'],
  [/[[\]{}]/uy, 'Only round brackets group.'],
  [/√/uy, 'A square root is written sqrt(x).'],
  [/∫/uy, 'An integral is written integrate(f, s, a, b).'],
  [/;/uy, 'Arguments are separated by commas.'],
];

/** Whether a text can be a symbol: a letter, then letters, digits, underscores or lowered digits; not and, or, not. */
export function isSymbol(text: string): boolean {
  NAME.lastIndex = 0;
  return !WORDS.has(text) && NAME.exec(text)?.[0] === text;
}

/**
 * Cuts a text into words; the last token is `end`.
 *
 * Fails at the first sign that is not of the language, at a number beyond the range of doubles, and for a
 * text that is too long.
 */
export function cutIntoTokens(text: string, origin?: Origin): Outcome<readonly Token[]> {
  const placeAt = (offset: number) => origin?.placeAt(offset) ?? {};
  if (text.length > MAX_TEXT_LENGTH) {
    return fail(
      problem(
        'expression-too-long',
        placeAt(0),
        `The expression has ${text.length} characters; at most ${MAX_TEXT_LENGTH} are read.`,
        'Give parts of it a name under "where".',
      ),
    );
  }
  const tokens: Token[] = [];
  let at = 0;
  const take = (pattern: RegExp): string | undefined => {
    pattern.lastIndex = at;
    return pattern.exec(text)?.[0];
  };
  while (at < text.length) {
    const space = take(SPACE);
    if (space !== undefined) {
      at += space.length;
      continue;
    }
    const foreign = FOREIGN.find(([pattern]) => take(pattern) !== undefined);
    if (foreign !== undefined) {
      const found = take(foreign[0]) ?? '';
      return fail(
        problem('unknown-sign', placeAt(at), `"${found}" is not a sign of expressions.`, foreign[1]),
      );
    }
    const number = take(NUMBER);
    if (number !== undefined) {
      const value = Number(number);
      const lost = value === 0 && /[1-9]/.test(number.split(/[eE]/)[0] ?? '');
      if (!Number.isFinite(value) || lost) {
        return fail(
          problem(
            'number-out-of-range',
            placeAt(at),
            `${shorten(number)} is ${lost ? 'closer to zero' : 'larger'} than a number can be here (about 1e-308 to 1e308).`,
          ),
        );
      }
      tokens.push({ kind: 'number', value, span: { start: at, end: at + number.length } });
      at += number.length;
      continue;
    }
    const name = take(NAME);
    if (name !== undefined) {
      const span = { start: at, end: at + name.length };
      tokens.push(WORDS.has(name) ? { kind: 'sign', text: name, span } : { kind: 'name', text: name, span });
      at += name.length;
      continue;
    }
    const raised = take(RAISED);
    if (raised !== undefined) {
      const span = { start: at, end: at + raised.length };
      tokens.push({ kind: 'exponent', value: readRaised(raised), span });
      at += raised.length;
      continue;
    }
    const primes = take(PRIMES);
    if (primes !== undefined) {
      let count = 0;
      for (const sign of primes) count += PRIME_COUNT.get(sign) ?? 1;
      tokens.push({ kind: 'primes', count, span: { start: at, end: at + primes.length } });
      at += primes.length;
      continue;
    }
    const sign = take(SIGN);
    if (sign !== undefined) {
      const span = { start: at, end: at + sign.length };
      tokens.push({ kind: 'sign', text: PLAIN_SIGN.get(sign) ?? sign, span });
      at += sign.length;
      continue;
    }
    const found = String.fromCodePoint(text.codePointAt(at) ?? 0xfffd);
    return fail(problem('unknown-sign', placeAt(at), `${nameSign(found)} is not a sign of expressions.`));
  }
  tokens.push({ kind: 'end', span: { start: at, end: at } });
  return succeed(tokens);
}

function readRaised(text: string): number {
  let value = 0;
  for (const sign of text) {
    const digit = '⁰¹²³⁴⁵⁶⁷⁸⁹'.indexOf(sign);
    if (digit >= 0) value = 10 * value + digit;
  }
  return text.startsWith('⁻') ? -value : value;
}

function nameSign(sign: string): string {
  return /[\p{C}\p{Z}]/u.test(sign)
    ? `The unseen character U+${(sign.codePointAt(0) ?? 0).toString(16).toUpperCase().padStart(4, '0')}`
    : `"${sign}"`;
}

/** A piece of the user's text, short enough for a message. */
export function shorten(text: string): string {
  const flat = text.replace(/\s+/gu, ' ').trim();
  return flat.length <= 48 ? flat : `${[...flat].slice(0, 44).join('')} …`;
}
