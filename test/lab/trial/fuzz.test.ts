import fc from 'fast-check';
import { writeOds } from 'hucre/ods';
import { writeXlsx } from 'hucre/xlsx';
import { describe, expect, it } from 'vitest';
import { describeRecognition, findColumn, listSheets } from '../../../src/lab/trial/index.ts';
import { formatProblem } from '../../../src/problem/index.ts';
import { makeOpenDocument } from './archive.ts';
import { bytesOf, tryRead } from './reading.ts';

const seed = 20_240_229;

/** Reads it, uses what comes out, and checks what every outcome must hold. */
async function survives(bytes: Uint8Array): Promise<void> {
  const before = bytes.slice();
  const outcome = await tryRead(bytes);
  expect(bytes.every((byte, at) => byte === before[at])).toBe(true);
  if (!outcome.ok) {
    expect(outcome.problems.length).toBeGreaterThan(0);
    for (const found of outcome.problems) expect(formatProblem(found)).toMatch(/\w.*\.$/s);
    return;
  }
  const table = outcome.value;
  expect(table.columns.length).toBeGreaterThan(0);
  expect(table.notes.length).toBeLessThan(300);
  for (const sentence of describeRecognition(table.recognised))
    expect(sentence).not.toMatch(/undefined|NaN|\[object/);
  for (const column of table.columns.slice(0, 100)) {
    expect(column.values.length).toBeLessThanOrEqual(table.rows);
    expect(column.notNumbers.first.length).toBeLessThanOrEqual(20);
    if (column.values.length > 0) {
      expect(table.rowNumbers(0, column.run)).toBeGreaterThanOrEqual(table.recognised.firstLine);
    }
    expect(findColumn(table, column.heading, column.run).ok).toBe(true);
  }
}

const samples = [
  't (s),x (m)\n0,1\n0.1,2\n0.2,3\n',
  'Logger;7\nRate;100 Hz\n\nRun 1;;Run 2;\nt;x;t;x\ns;m;s;m\n0,0;1,5;0,0;2,5\n0,1;1,6;0,1;2,6\n0,2;1,7;;\n',
  '\ufeff"time, (s)"\t"a ""b"""\n"0,5"\t"1,5"\n"0,75"\t"OL"\nwheel touched\n"1,0"\t"-"\n',
  '  T(min) V1   V2\nApagado 0.25 8.21 6.93\n- 0.5 8.22 6.94\n- 0.75 8.22 6.95\n',
  'when;x\n2024-02-29T10:00:00;1\n2024-02-29T10:00:01;2\n\nt;x\n10:00;1\n10:01;2\n',
  `n;value\n${Array.from({ length: 120 }, (_, n) => `${n};1.${n},5`).join('\r\n')}`,
].map(bytesOf);

/** Small damage: bytes changed, put in, taken out, doubled; the end cut off. */
function damaged(originals: readonly Uint8Array[]): fc.Arbitrary<Uint8Array> {
  const edit = fc.record({
    at: fc.double({ min: 0, max: 1, noNaN: true }),
    kind: fc.constantFrom('change', 'insert', 'remove', 'double', 'cut'),
    byte: fc.oneof(
      fc.constantFrom(0, 9, 10, 13, 32, 34, 35, 43, 44, 45, 46, 48, 57, 58, 59, 101, 124, 0xa0, 0xc3, 0xff),
      fc.integer({ min: 0, max: 255 }),
    ),
    length: fc.integer({ min: 1, max: 60 }),
  });
  return fc
    .tuple(fc.constantFrom(...originals), fc.array(edit, { minLength: 1, maxLength: 12 }))
    .map(([original, edits]) => {
      let bytes = Array.from(original);
      for (const { at, kind, byte, length } of edits) {
        const place = Math.floor(at * bytes.length);
        if (kind === 'change') bytes[place] = byte;
        else if (kind === 'insert') bytes.splice(place, 0, byte);
        else if (kind === 'remove') bytes.splice(place, length);
        else if (kind === 'double') bytes.splice(place, 0, ...bytes.slice(place, place + length));
        else if (at > 0.5) bytes = bytes.slice(0, place);
      }
      return Uint8Array.from(bytes);
    });
}

describe('whatever the bytes, the reader answers', () => {
  it('to random bytes', async () => {
    await fc.assert(fc.asyncProperty(fc.uint8Array({ maxLength: 600 }), survives), { seed, numRuns: 500 });
  });

  it('to random text of the characters that tables are made of', async () => {
    const characters = fc.constantFrom(...'0123456789.,;\t|: -+eE"\n\r#%/()[]NaOLµ\u00a0tsRun');
    const text = fc.array(characters, { maxLength: 400 }).map((list) => bytesOf(list.join('')));
    await fc.assert(fc.asyncProperty(text, survives), { seed, numRuns: 1500 });
  });

  it('to text files that were damaged', async () => {
    await fc.assert(fc.asyncProperty(damaged(samples), survives), { seed, numRuns: 1500 });
  });

  it('to spreadsheets that were damaged', async () => {
    const sheets = [
      {
        name: 'S',
        rows: [
          ['t (s)', 'x'],
          [1, 2],
          [2, 'a'],
          [3, 4],
        ],
      },
    ];
    const document = makeOpenDocument(
      '<table:table table:name="A"><table:table-row table:number-rows-repeated="3"><table:table-cell office:value-type="float" office:value="1" table:number-columns-repeated="2"/></table:table-row></table:table>',
    );
    const originals = [await writeXlsx({ sheets }), await writeOds({ sheets }), document];
    const both = async (bytes: Uint8Array): Promise<void> => {
      await survives(bytes);
      const names = await listSheets(bytes, { file: 'a' });
      if (!names.ok) expect(names.problems.length).toBeGreaterThan(0);
    };
    await fc.assert(fc.asyncProperty(damaged(originals), both), { seed, numRuns: 400 });
  });

  it.each([
    ['one line without end', '1,'.repeat(400_000)],
    ['one number without end', '9'.repeat(500_000)],
    ['nothing but quotes', '"'.repeat(200_000)],
    ['quotes that open on every line', '"1;2\n'.repeat(20_000)],
    ['nothing but brackets', '('.repeat(100_000)],
    ['nothing but blank lines', '\n'.repeat(500_000)],
    ['blanks and one number', `${' '.repeat(300_000)}1\n2\n3\n`],
    ['ten thousand headings', 't;x\n1;2\n'.repeat(20_000)],
    ['ten thousand columns', `${'1;'.repeat(10_000)}\n`.repeat(5)],
    ['words like endless numbers', `${'1.'.repeat(50_000)}\n1\n2\n`],
    ['remarks without end', `t;x\n1;2\n${'word\n2;3\n'.repeat(50_000)}`],
  ])('to %s, in bounded time and memory', async (_, text) => {
    await survives(bytesOf(text));
  });
});
