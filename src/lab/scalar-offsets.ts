import { Scalar } from 'yaml';

/**
 * Maps offsets in the text that a YAML scalar stands for to offsets in the file that holds it.
 *
 * YAML folds lines, strips indentation and knows escapes, so the two texts run apart; what both have in the same
 * order is everything that is not white space. White space maps to where it begins in the file.
 *
 * @param scalar the scalar, with its range in `source`
 * @param value  the text that it stands for
 * @returns value.length + 1 offsets in `source`; the last one is where the text ends
 */
export function scalarOffsets(scalar: Scalar, value: string, source: string): Int32Array {
  const range = scalar.range ?? [0, 0, 0];
  const escapes = scalar.type === Scalar.QUOTE_DOUBLE;
  const quotes = scalar.type === Scalar.QUOTE_SINGLE;
  const offsets = new Int32Array(value.length + 1);
  let at = startOfText(scalar, range[0], source);
  for (let index = 0; index < value.length; index++) {
    const character = value[index] ?? '';
    if (isWhite(character)) {
      offsets[index] = at;
      if (source[at] === character) at += 1;
      else if (escapes && source[at] === '\\') at += escapeLength(source, at);
      continue;
    }
    at = skipWhite(source, at, escapes);
    offsets[index] = at;
    if (escapes && source[at] === '\\') {
      const length = escapeLength(source, at);
      // Escapes above U+FFFF stand for two units of UTF-16.
      if (length === 10 && character >= '\ud800' && character <= '\udbff' && index + 1 < value.length) {
        index += 1;
        offsets[index] = at;
      }
      at += length;
    } else {
      at += quotes && character === "'" ? 2 : 1;
    }
  }
  offsets[value.length] = at;
  return offsets;
}

function startOfText(scalar: Scalar, start: number, source: string): number {
  switch (scalar.type) {
    case Scalar.QUOTE_DOUBLE:
    case Scalar.QUOTE_SINGLE:
      return start + 1;
    case Scalar.BLOCK_FOLDED:
    case Scalar.BLOCK_LITERAL: {
      const header = source.indexOf('\n', start);
      return header < 0 ? source.length : skipIndentation(source, header + 1);
    }
    default:
      return start;
  }
}

function skipIndentation(source: string, from: number): number {
  let at = from;
  while (source[at] === ' ') at += 1;
  return at;
}

/** Past white space; in double quotes also past a backslash that joins two lines. */
function skipWhite(source: string, from: number, escapes: boolean): number {
  let at = from;
  while (at < source.length) {
    if (isWhite(source[at] ?? '')) at += 1;
    else if (escapes && source[at] === '\\' && /[\r\n]/.test(source[at + 1] ?? '')) at += 2;
    else break;
  }
  return at;
}

/** Length of the escape that begins at `at`: two characters, or more where digits follow x, u or U. */
function escapeLength(source: string, at: number): number {
  const lengths: Readonly<Record<string, number>> = { x: 4, u: 6, U: 10 };
  const letter = source[at + 1] ?? '';
  return Object.hasOwn(lengths, letter) ? (lengths[letter] ?? 2) : 2;
}

function isWhite(character: string): boolean {
  return character === ' ' || character === '\t' || character === '\n' || character === '\r';
}
