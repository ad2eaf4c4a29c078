import fc from 'fast-check';
import Papa from 'papaparse';
import { describe, expect, it } from 'vitest';
import type { TrialTable } from '../../../src/lab/trial/index.ts';
import { numbers, read } from './reading.ts';

const runs = { seed: 20_240_229, numRuns: 300 };

/** How a made-up logger writes its files. */
interface Logger {
  readonly delimiter: ',' | ';' | '\t' | '|' | '   ';
  readonly decimal: '.' | ',';
  readonly encoding: 'utf-8' | 'utf-8 with mark' | 'utf-16le' | 'utf-16be' | 'windows-1252';
  readonly headings: 'brackets' | 'square brackets' | 'slash' | 'row of units' | 'none';
  readonly preamble: readonly string[];
  readonly lineEnd: '\n' | '\r\n' | '\r';
  readonly trailing: boolean;
  readonly form: 'shortest' | 'fixed' | 'exponent';
  readonly lastEnd: boolean;
}

const logger: fc.Arbitrary<Logger> = fc
  .record({
    delimiter: fc.constantFrom(',' as const, ';' as const, '\t' as const, '|' as const, '   ' as const),
    decimal: fc.constantFrom('.' as const, ',' as const),
    encoding: fc.constantFrom(
      'utf-8' as const,
      'utf-8 with mark' as const,
      'utf-16le' as const,
      'utf-16be' as const,
      'windows-1252' as const,
    ),
    headings: fc.constantFrom(
      'brackets' as const,
      'square brackets' as const,
      'slash' as const,
      'row of units' as const,
      'none' as const,
    ),
    preamble: fc.subarray([
      '# made up for a test',
      'Logger 4, gate 2',
      'Made: 2024-02-29 10:15:00',
      'Größe: Länge in µm',
      'Readings follow:',
      '',
    ]),
    lineEnd: fc.constantFrom('\n' as const, '\r\n' as const, '\r' as const),
    trailing: fc.boolean(),
    form: fc.constantFrom('shortest' as const, 'fixed' as const, 'exponent' as const),
    lastEnd: fc.boolean(),
  })
  .filter(({ delimiter, decimal }) => delimiter !== ',' || decimal !== ',');

const names = ['Zeit', 'Länge', 'Kraft', 'U_1', 'Winkel'];
const units = ['s', 'µm', 'mN', 'V', '°'];

const rows = fc
  .tuple(fc.integer({ min: 2, max: 5 }), fc.integer({ min: 3, max: 40 }))
  .chain(([width, length]) =>
    fc.array(
      fc.array(
        fc.oneof(
          fc.double({ min: -1e6, max: 1e6, noNaN: true }),
          fc.integer({ min: -1000, max: 100_000 }),
          fc.double({ noNaN: true, noDefaultInfinity: true }),
        ),
        { minLength: width, maxLength: width },
      ),
      { minLength: length, maxLength: length },
    ),
  );

function writeNumber(value: number, style: Logger): string {
  const text =
    style.form === 'exponent'
      ? value.toExponential(12)
      : style.form === 'fixed' && Math.abs(value) < 1e15
        ? value.toFixed(4)
        : String(value);
  return text.replace('.', style.decimal);
}

function writeHeadings(style: Logger, width: number): string[] {
  const join = (cells: string[]): string => cells.slice(0, width).join(style.delimiter);
  switch (style.headings) {
    case 'brackets':
      return [join(names.map((name, column) => `${name} (${units[column]})`))];
    case 'square brackets':
      return [join(names.map((name, column) => `${name} [${units[column]}]`))];
    case 'slash':
      return [join(names.map((name, column) => `${name}/${units[column]}`))];
    case 'row of units':
      return [join(names), join(units)];
    case 'none':
      return [];
  }
}

function encode(text: string, encoding: Logger['encoding']): Uint8Array {
  if (encoding === 'utf-8') return new TextEncoder().encode(text);
  if (encoding === 'utf-8 with mark') return new TextEncoder().encode(`\ufeff${text}`);
  if (encoding === 'windows-1252') return Uint8Array.from(text, (character) => character.charCodeAt(0));
  const bytes = new Uint8Array(2 * text.length);
  const view = new DataView(bytes.buffer);
  for (let at = 0; at < text.length; at++)
    view.setUint16(2 * at, text.charCodeAt(at), encoding === 'utf-16le');
  return bytes;
}

function write(
  style: Logger,
  table: readonly (readonly number[])[],
): { bytes: Uint8Array; cells: string[][] } {
  const cells = table.map((row) => row.map((value) => writeNumber(value, style)));
  const end = style.trailing && style.delimiter !== '   ' ? style.delimiter : '';
  const heading = writeHeadings(style, table[0]?.length ?? 0);
  const lines = [...style.preamble, ...heading, ...cells.map((row) => row.join(style.delimiter) + end)];
  return {
    bytes: encode(lines.join(style.lineEnd) + (style.lastEnd ? style.lineEnd : ''), style.encoding),
    cells,
  };
}

describe('a random table, written by a random logger', () => {
  it('is read back to the last bit', async () => {
    await fc.assert(
      fc.asyncProperty(logger, rows, async (style, table) => {
        const { bytes, cells } = write(style, table);
        const found = await read(bytes);
        const wanted = cells[0]?.map((_, column) =>
          cells.map((row) => Number((row[column] ?? '').replace(',', '.'))),
        );
        expect(numbers(found)).toEqual(wanted);
        if (style.headings === 'none') return;
        const width = table[0]?.length ?? 0;
        expect(found.columns.map((column) => column.name)).toEqual(names.slice(0, width));
        expect(found.columns.map((column) => column.unit?.text)).toEqual(units.slice(0, width));
      }),
      { ...runs, endOnFailure: false },
    );
  });

  it('is read back when every cell is quoted', async () => {
    const quoted = fc.record({
      delimiter: fc.constantFrom(',', ';', '\t'),
      decimal: fc.constantFrom('.', ','),
    });
    await fc.assert(
      fc.asyncProperty(quoted, rows, async ({ delimiter, decimal }, table) => {
        const width = table[0]?.length ?? 0;
        const cells = table.map((row) => row.map((value) => String(value).replace('.', decimal)));
        const note = table.map((_, n) => `line ${n}${delimiter} "so${n % 3 === 0 ? '\n' : ' '}it" was`);
        const text = Papa.unparse(
          { fields: [...names.slice(0, width), 'a "note"'], data: cells.map((row, n) => [...row, note[n]]) },
          { delimiter, quotes: true },
        );
        const found = await read(text);
        expect(numbers(found)).toEqual(
          Array.from({ length: width }, (_, column) => table.map((row) => Number(String(row[column])))),
        );
        expect(found.recognised.textColumns[0]?.heading).toBe('a "note"');
      }),
      runs,
    );
  });

  it('beyond the first lines, which are read with more care, is bit for bit what Number() makes of it', async () => {
    const digits = (most: number): fc.Arbitrary<string> =>
      fc
        .array(fc.integer({ min: 0, max: 9 }), { minLength: 1, maxLength: most })
        .map((list) => list.join(''));
    const anyWriting = fc
      .record({
        sign: fc.constantFrom('', '-', '+'),
        whole: digits(19),
        fraction: fc.option(digits(20)),
        exponent: fc.option(
          fc.tuple(fc.constantFrom('e', 'E', 'e+', 'E-', 'e-0'), fc.integer({ min: 0, max: 330 })),
        ),
      })
      .map(({ sign, whole, fraction, exponent }) => {
        const power = exponent === null ? '' : exponent.join('');
        return `${sign}${whole}${fraction === null ? '' : `.${fraction}`}${power}`;
      });
    const printed = fc.double({ min: -1e9, max: 1e9, noNaN: true }).map(String);
    // Odd integers above 2^53 lie half-way between two doubles: the hardest to round.
    const halfWay = fc.bigInt({ min: 2n ** 52n, max: 2n ** 53n }).map((n) => String(2n * n + 1n));
    const written = fc.oneof(anyWriting, printed, halfWay);
    const layout = fc.record({
      delimiter: fc.constantFrom(';', '\t', ' ', ' ; '),
      decimal: fc.constantFrom('.', ','),
      end: fc.constantFrom('\n', '\r\n', ' \n', '\r'),
      column: fc.array(fc.tuple(written, written), { minLength: 90, maxLength: 140 }),
    });
    await fc.assert(
      fc.asyncProperty(layout, async ({ delimiter, decimal, end, column }) => {
        const lines = column.map((pair) => pair.map((text) => text.replace('.', decimal)).join(delimiter));
        const found = await read(`a${delimiter}b${end}${lines.join(end)}${end}`, { decimalMark: decimal });
        for (const side of [0, 1]) {
          const wanted = Float64Array.from(column, (pair) => Number(pair[side]));
          expect(found.columns[side]?.values).toEqual(wanted);
        }
      }),
      { ...runs, numRuns: 60 },
    );
  });

  it('is the same whether its lines come early, read with care, or late, read straight from the bytes', async () => {
    const cell = fc.oneof(
      { weight: 6, arbitrary: fc.double({ min: -1e4, max: 1e4, noNaN: true }).map(String) },
      fc.constantFrom(
        '',
        '-',
        'OL',
        '3.4s',
        '"2.5"',
        '" 2.5 "',
        '+7',
        '1.',
        '.5',
        '1e5',
        '1e',
        '--3',
        '0x10',
        ' 8 ',
        '5 6',
      ),
    );
    const line = fc.oneof(
      { weight: 8, arbitrary: fc.array(cell, { minLength: 1, maxLength: 5 }) },
      fc.constantFrom([''], ['# note', '1', '2'], ['wheel touched'], ['%', '3'], ['"a;b"', '1', '2']),
    );
    const style = fc.record({
      delimiter: fc.constantFrom(';', '\t', ','),
      end: fc.constantFrom('\n', '\r\n'),
      lines: fc.array(line, { minLength: 1, maxLength: 20 }),
    });
    await fc.assert(
      fc.asyncProperty(style, async ({ delimiter, end, lines }) => {
        const untidy = lines.map((cells) => cells.join(delimiter)).join(end);
        const behind = async (tidy: number): Promise<unknown> => {
          const head = Array.from(
            { length: tidy },
            (_, n) => `${n}${delimiter}${n}.5${delimiter}${n}e-2`,
          ).join(end);
          const text = `a${delimiter}b${delimiter}c${end}${head}${end}${untidy}${end}`;
          const found = await read(text, { delimiter, decimalMark: '.', firstRow: 2 });
          return found.columns.map((column) => ({
            values: Array.from(column.values.slice(tidy)),
            lines: Array.from(column.values.slice(tidy), (_, n) => found.rowNumbers(n + tidy) - tidy),
            bad: column.notNumbers.first.map((bad) => [bad.message, (bad.place.line ?? 0) - tidy]),
            blanks: column.blanks,
            overloads: column.overloads,
          }));
        };
        expect(await behind(200)).toEqual(await behind(30));
      }),
      runs,
    );
  });

  it('is the same table for the same bytes', async () => {
    await fc.assert(
      fc.asyncProperty(logger, rows, async (style, table) => {
        const { bytes } = write(style, table);
        const plain = (found: TrialTable): unknown =>
          JSON.stringify({ ...found, lines: found.rowNumbers(0) });
        expect(plain(await read(bytes))).toBe(plain(await read(bytes.slice())));
      }),
      { ...runs, numRuns: 60 },
    );
  });
});
