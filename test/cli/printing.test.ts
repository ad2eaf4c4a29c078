import { describe, expect, it } from 'vitest';
import { asciiGlyphs, unicodeGlyphs } from '../../src/cli/print/glyphs.ts';
import { alignNumbers, printRough, unitHeading } from '../../src/cli/print/numbers.ts';
import { type Page, pageOf } from '../../src/cli/print/page.ts';
import { tame, toAscii } from '../../src/cli/print/plain-text.ts';
import { printParagraph, printTable } from '../../src/cli/print/table.ts';
import { drawWaterfall } from '../../src/cli/print/waterfall.ts';

const page: Page = {
  width: 80,
  glyphs: unicodeGlyphs,
  paint: (text) => text,
  decimalMark: '.',
  plain: tame,
};

describe('numbers below each other', () => {
  it('are rounded to the place of the second digit of their uncertainty and aligned at the mark', () => {
    const { values, uncertainties, exponent } = alignNumbers(page, [
      { value: 2.26638, standardUncertainty: 0.00207 },
      { value: 0.06816, standardUncertainty: 0.00134, signed: true },
      { value: -0.063, standardUncertainty: 0.0131, signed: true },
    ]);
    expect(values).toEqual([' 2.2664', '+0.0682', '−0.063 ']);
    expect(uncertainties).toEqual(['± 0.0021', '± 0.0013', '± 0.013 ']);
    expect(exponent).toBe(0);
  });

  it('keep two digits where rounding adds one: 0.0996 is 0.10', () => {
    expect(alignNumbers(page, [{ value: 1.2345, standardUncertainty: 0.0996 }])).toMatchObject({
      values: ['1.23'],
      uncertainties: ['± 0.10'],
    });
  });

  it('take out a power of ten where digits before the mark would not be significant', () => {
    const { values, uncertainties, exponent } = alignNumbers(page, [
      { value: 12345, standardUncertainty: 1234 },
    ]);
    expect([values[0], uncertainties[0], exponent]).toEqual(['1.23', '± 0.12', 4]);
  });

  it('take out the same power of ten for all', () => {
    const { values, exponent } = alignNumbers(page, [
      { value: 7.2e-7, standardUncertainty: 8e-8 },
      { value: -3e-8, standardUncertainty: 1.2e-8, signed: true },
    ]);
    expect(values).toEqual([' 7.20', '−0.30']);
    expect(exponent).toBe(-7);
    expect(unitHeading(page, 'kg·m²', exponent)).toBe('10⁻⁷ kg·m²');
  });

  it('have a decimal comma where asked for', () => {
    const comma = alignNumbers({ ...page, decimalMark: ',' }, [
      { value: 3.5573, standardUncertainty: 0.0019 },
    ]);
    expect([comma.values[0], comma.uncertainties[0]]).toEqual(['3,5573', '± 0,0019']);
  });

  it('say "?" where a value or an uncertainty is not known, and nothing where a value is exact', () => {
    const { values, uncertainties } = alignNumbers(page, [
      { value: 1, standardUncertainty: 0 },
      { value: Number.NaN, standardUncertainty: 1 },
      { value: 2, standardUncertainty: Number.NaN },
    ]);
    expect(values.map((text) => text.trim())).toEqual(['1.0', '?', '2.0']);
    expect(uncertainties.map((text) => text.trim())).toEqual(['', '± 1.0', '± ?']);
  });

  it('bear their sign where asked for, and no sign at zero', () => {
    expect([printRough(page, 1.26, 1, true), printRough(page, -0.6), printRough(page, 0, 1, true)]).toEqual([
      '+1.3',
      '−0.6',
      '0.0',
    ]);
  });
});

describe('a waterfall', () => {
  const rows = [
    { kind: 'total', value: 0, standardUncertainty: 1 },
    { kind: 'step', from: 0, to: 8 },
    { kind: 'step', from: 8, to: 4 },
    { kind: 'total', value: 4, standardUncertainty: 0.1 },
    { kind: 'rest', from: 4, to: 5 },
  ] as const;

  it('draws every bar from where the last one ended, the head telling its sign', () => {
    expect(drawWaterfall(rows, 10, unicodeGlyphs)).toEqual([
      '├●┤       ',
      ' ━━━━━━━━►',
      '     ◄━━━━',
      '     ●    ',
      '     ╍►   ',
    ]);
  });

  it('is legible in plain ASCII', () => {
    expect(drawWaterfall(rows, 10, asciiGlyphs)).toEqual([
      '|o|       ',
      ' ========>',
      '     <====',
      '     o    ',
      '     ~>   ',
    ]);
  });

  it('has lines of the same width whatever the numbers', () => {
    const odd = [
      { kind: 'total', value: Number.NaN, standardUncertainty: 1 },
      { kind: 'total', value: 3, standardUncertainty: Number.POSITIVE_INFINITY },
      { kind: 'step', from: 3, to: 3 },
      { kind: 'blank' },
    ] as const;
    for (const line of drawWaterfall(odd, 12, unicodeGlyphs)) expect(line).toHaveLength(12);
  });
});

describe('tables', () => {
  it('align by what the terminal shows, also with wide and combining characters', () => {
    const lines = printTable(
      page,
      [{}, { align: 'right' }],
      [
        ['鎖', '1'],
        ['Kräfte', '22'],
        ['e\u0301', '333'],
      ],
    );
    expect(lines).toEqual(['鎖        1', 'Kräfte   22', 'e\u0301       333']);
  });

  it('go on below where a text is too long for its column', () => {
    expect(printTable(page, [{ widest: 16 }, {}], [['  friction of the rolling wheels', '1']])).toEqual([
      '  friction of    1',
      '    the rolling',
      '    wheels',
    ]);
  });

  it('wrap paragraphs at the width of the page', () => {
    const lines = printParagraph({ ...page, width: 20 }, 'one two three four five six', '* ', '  ');
    expect(lines).toEqual(['* one two three four', '  five six']);
  });
});

describe('text of strangers', () => {
  it('cannot move the cursor, change colours or turn the direction of writing', () => {
    expect(tame('a\u001b[31mred\u009b2J\u202etxt\u0007')).toBe('a\ufffd[31mred\ufffd2J\ufffdtxt\ufffd');
  });

  it('is spelled in ASCII where the terminal knows nothing else', () => {
    expect(toAscii('(1.2 ± 0.1)×10⁻⁶ kg·m/s², 5 µm, Härte −3 °C …')).toBe(
      '(1.2 +/- 0.1)x10^-6 kg*m/s^2, 5 um, Harte -3  degC ...',
    );
  });
});

describe('the page', () => {
  const environment = (variables: Readonly<Record<string, string>>) => ({
    folder: '/',
    variables,
    shippedLabs: '/',
    app: '',
    documentThread: null,
    showAddress: () => false,
    version: '0',
    signal: { aborted: false },
  });
  const stream = (isTerminal: boolean, columns?: number) => ({
    write: () => undefined,
    isTerminal,
    ...(columns === undefined ? {} : { columns }),
  });

  it('is between 80 and 120 characters wide, 100 where nobody says', () => {
    const widths = [undefined, 20, 97, 300].map(
      (columns) => pageOf(stream(true, columns), environment({}), '.').width,
    );
    expect(widths).toEqual([100, 80, 97, 120]);
  });

  it('has colours on a terminal only, and none where NO_COLOR is set', () => {
    const painted = (isTerminal: boolean, variables: Readonly<Record<string, string>>) =>
      pageOf(stream(isTerminal), environment(variables), '.').paint('x', 'bad');
    expect(painted(true, {})).toBe('\u001b[31mx\u001b[39m');
    expect(painted(true, { NO_COLOR: '1' })).toBe('x');
    expect(painted(true, { TERM: 'dumb' })).toBe('x');
    expect(painted(false, {})).toBe('x');
  });

  it('falls back to ASCII where the locale is none of UTF-8, and takes UTF-8 where none is set', () => {
    const glyphs = (variables: Readonly<Record<string, string>>) =>
      pageOf(stream(false), environment(variables), '.').glyphs;
    expect(glyphs({ LC_ALL: 'C' })).toBe(asciiGlyphs);
    expect(glyphs({ LC_ALL: '', LANG: 'de_DE.ISO-8859-1' })).toBe(asciiGlyphs);
    expect(glyphs({ LC_CTYPE: 'en_GB.utf8', LANG: 'C' })).toBe(unicodeGlyphs);
    expect(glyphs({})).toBe(unicodeGlyphs);
  });
});
