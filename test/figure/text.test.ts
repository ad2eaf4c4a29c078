import { describe, expect, it } from 'vitest';
import {
  expressionText,
  fromText,
  measureText,
  plainText,
  symbolText,
  upright,
} from '../../src/figure/index.ts';

/** Runs in a short form: italics between slashes, raised ^(…), lowered _(…). */
function short(text: ReturnType<typeof fromText>): string {
  return text
    .map(({ text: part, style, level }) => {
      const set = style === 'italic' ? `/${part}/` : part;
      return level === 'raised' ? `^(${set})` : level === 'lowered' ? `_(${set})` : set;
    })
    .join('');
}

describe('symbols', () => {
  it.each([
    ['v', '/v/'],
    ['m_c', '/m/_(/c/)'],
    ['k2', '/k/_(2)'],
    ['theta_0', '/θ/_(0)'],
    ['θ₀', '/θ/_(0)'],
    ['F_max', '/F/_(max)'],
    ['lambda', '/λ/'],
    ['amplitude', 'amplitude'],
    ['x_a_2', '/x/_(/a/)_(,)_(2)'],
  ])('%s', (name, set) => {
    expect(short(symbolText(name))).toBe(set);
  });

  it('bears primes for derivatives with respect to time', () => {
    expect(short(symbolText('x', 2))).toBe('/x/\u2032\u2032');
  });
});

describe('expressions', () => {
  it.each([
    ['v^2', '/v/^(2)'],
    ['x^-1', '/x/^(−1)'],
    ['m_c*g/L', '/m/_(/c/)·/g///L/'],
    ['(a + b)*c', '(/a/ + /b/)·/c/'],
    ['a/(b*c)', '/a//(/b/·/c/)'],
    ['a - (b - c)', '/a/ − (/b/ − /c/)'],
    ['sqrt(h)', '√(/h/)'],
    ['abs(x)', '|/x/|'],
    ['max(a, b)', 'max(/a/, /b/)'],
    ['0.5*t^2', '0.5·/t/^(2)'],
    ['(a^b)^2', '(/a/^(/b/))^(2)'],
    ['h > 50 mm', '/h/ > 50\u00a0mm'],
    ['v < 3.6 km/h', '/v/ < 3.6\u00a0km/h'],
  ])('%s', (text, set) => {
    expect(short(expressionText(text))).toBe(set);
  });

  it('writes numbers with the decimal mark of the figure', () => {
    expect(plainText(expressionText('0.5*t', ','))).toBe('0,5·t');
    expect(plainText(expressionText('max(0.5, t)', ','))).toBe('max(0,5; t)');
  });

  it('leaves what has no place on one line as it is written', () => {
    expect(plainText(expressionText('a^(b^c)'))).toBe('a^b^c');
    expect(plainText(expressionText('integrate(s, s, 0, x)'))).toBe('integrate(s, s, 0, x)');
  });

  it('leaves a text that is no expression as it is', () => {
    expect(plainText(expressionText('time of passage'))).toBe('time of passage');
    expect(plainText(expressionText('2 +'))).toBe('2 +');
  });
});

it('sets superscript digits of units as raised digits, and reads them out again as they were', () => {
  expect(short(fromText('m²/s⁻¹²'))).toBe('m^(2)/s^(−12)');
  for (const text of ['m²/s²', 'kg·m²', '1.2×10⁻⁷', 'no small digits'])
    expect(plainText(fromText(text))).toBe(text);
});

it('measures texts as the font does', () => {
  // Advance widths of NotoSans-Regular 2.015 and LiberationSans-Regular 1.07.4, added up with fontTools 4.38.
  const known = [
    ['0.0123456789', 6560, 6396],
    ['slope of speed against displacement', 17108, 16177],
    ['rolling resistance', 8062, 7503],
    ['2.2204(93) 1/s²', 6905, 6782],
    ['Reibung der Kette', 8491, 8061],
    ['Größe θ µm ±', 6445, 6182],
  ] as const;
  for (const [text, noto, liberation] of known) {
    expect(measureText(upright(text), 1000)).toBeCloseTo(noto, 6);
    // Where the font is missing, a narrower one stands in for it.
    expect(liberation).toBeLessThan(noto);
  }
});

it('takes characters that it does not know as wider than nearly all characters are', () => {
  expect(measureText(upright('漢字'), 10)).toBe(20);
});
