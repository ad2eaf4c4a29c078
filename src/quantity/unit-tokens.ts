/** A piece of a unit's text; `start` and `end` are offsets in UTF-16 units. */
export interface UnitToken {
  readonly kind:
    | 'symbol'
    | 'number'
    | 'superscript'
    | 'power'
    | 'times'
    | 'over'
    | 'minus'
    | 'open'
    | 'close'
    | 'strange';
  readonly text: string;
  readonly start: number;
  readonly end: number;
  /** Whether white space stands before it. */
  readonly spaced: boolean;
}

/**
 * In the order tried. The dots are U+00B7 (middle dot), U+22C5 (dot operator) and U+2219 (bullet operator); the
 * full stop is read as a product too, as in N.m (ISO 2955). U+2212 is the minus sign.
 */
const patterns: readonly (readonly [UnitToken['kind'], RegExp])[] = [
  ['number', /\d+(?:\.\d+)?/y],
  ['superscript', /[⁺⁻]?[⁰¹²³⁴⁵⁶⁷⁸⁹]+/y],
  ['power', /\*\*|\^/y],
  ['times', /[*\u00B7\u22C5\u2219.]/y],
  ['over', /[/\u2215\u2044]/y],
  ['minus', /[-\u2212]/y],
  ['open', /\(/y],
  ['close', /\)/y],
  ['symbol', /[\p{L}°%‰\u2032\u2033\u2103\u2109]+/uy],
  ['strange', /./suy],
];

/** Cuts a unit's text into pieces; characters that belong to no unit come back as `strange`, one by one. */
export function cutUnit(text: string): UnitToken[] {
  const tokens: UnitToken[] = [];
  let offset = 0;
  let spaced = false;
  while (offset < text.length) {
    const space = matchAt(/\s+/y, text, offset);
    if (space !== undefined) {
      offset += space.length;
      spaced = true;
      continue;
    }
    for (const [kind, pattern] of patterns) {
      const found = matchAt(pattern, text, offset);
      if (found === undefined) continue;
      tokens.push({ kind, text: found, start: offset, end: offset + found.length, spaced });
      offset += found.length;
      spaced = false;
      break;
    }
  }
  return tokens;
}

function matchAt(pattern: RegExp, text: string, offset: number): string | undefined {
  pattern.lastIndex = offset;
  return pattern.exec(text)?.[0];
}
