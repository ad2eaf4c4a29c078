import { isKnownUnit } from '../quantity/index.ts';
import type { Token } from './tokens.ts';

/**
 * Reads as much of a unit as stands behind a number: known unit symbols, their powers, products and quotients.
 *
 * @param first index of the token behind the number
 * @returns index of the token behind the unit; `first` where no unit stands there
 */
export function findEndOfUnit(text: string, tokens: readonly Token[], first: number): number {
  const startsReciprocal = isNumberOne(tokens[first]) && isSign(tokens[first + 1], '/');
  let end = startsReciprocal ? first + 1 : readFactor(text, tokens, first);
  if (end === first) return first;
  for (;;) {
    const next = readProductPart(text, tokens, end);
    if (next === end) break;
    end = next;
  }
  return startsReciprocal && end === first + 1 ? first : end;
}

function readProductPart(text: string, tokens: readonly Token[], at: number): number {
  const joined = isSign(tokens[at], '*') || isSign(tokens[at], '/');
  const start = joined ? at + 1 : at;
  if (isSign(tokens[at], '/') && isSign(tokens[start], '(')) {
    let end = readFactor(text, tokens, start + 1);
    if (end === start + 1) return at;
    while (!isSign(tokens[end], ')')) {
      const begin = isSign(tokens[end], '*') ? end + 1 : end;
      const next = readFactor(text, tokens, begin);
      if (next === begin) return at;
      end = next;
    }
    return end + 1;
  }
  const end = readFactor(text, tokens, start);
  return end === start ? at : end;
}

/** One symbol with its power; `at` where there is none. */
function readFactor(text: string, tokens: readonly Token[], at: number): number {
  const end = readSymbol(text, tokens, at);
  if (end === at) return at;
  if (tokens[end]?.kind === 'exponent') return end + 1;
  if (isSign(tokens[end], '^')) {
    const digits = isSign(tokens[end + 1], '-') ? end + 2 : end + 1;
    if (tokens[digits]?.kind === 'number') return digits + 1;
  }
  return end;
}

function readSymbol(text: string, tokens: readonly Token[], at: number): number {
  const token = tokens[at];
  if (token === undefined) return at;
  const following = tokens[at + 1];
  if (isSign(token, '°')) {
    const joined = following?.kind === 'name' && following.span.start === token.span.end;
    return joined && isKnownUnit(text.slice(token.span.start, following.span.end)) ? at + 2 : at + 1;
  }
  if (isSign(token, '%')) return at + 1;
  if (token.kind !== 'name' || !isKnownUnit(text.slice(token.span.start, token.span.end))) return at;
  return isSign(following, '(') && following.span.start === token.span.end ? at : at + 1;
}

function isSign(token: Token | undefined, text: string): boolean {
  return token?.kind === 'sign' && token.text === text;
}

function isNumberOne(token: Token | undefined): boolean {
  return token?.kind === 'number' && token.value === 1;
}
