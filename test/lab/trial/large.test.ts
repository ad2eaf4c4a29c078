import { describe, expect, it } from 'vitest';
import { read } from './reading.ts';

const rows = 1_000_000;

/** A million readings as bytes, without a string of that length; the numbers are those of `valueAt`. */
function largeFile(heading: string, line: (row: number) => string): Uint8Array {
  const encoder = new TextEncoder();
  const parts = [encoder.encode(heading)];
  for (let from = 0; from < rows; from += 10_000) {
    let text = '';
    for (let row = from; row < from + 10_000; row++) text += line(row);
    parts.push(encoder.encode(text));
  }
  const bytes = new Uint8Array(parts.reduce((sum, part) => sum + part.length, 0));
  let at = 0;
  for (const part of parts) {
    bytes.set(part, at);
    at += part.length;
  }
  return bytes;
}

const force = (row: number): string => `${row % 7 === 0 ? '-' : ''}${row % 13}.${(row * 7919) % 100_000}`;

describe('a file of a million readings', () => {
  it('is read whole, each value where it belongs', async () => {
    const table = await read(
      largeFile(
        'Made up\n\ntime (s);force (N);place (m)\n',
        (row) => `${row / 1000};${force(row)};${row}e-6\n`,
      ),
    );
    expect(table.rows).toBe(rows);
    expect(table.notes).toEqual([]);
    const [time, newton, place] = table.columns;
    let wrong = 0;
    for (let row = 0; row < rows; row++) {
      if (time?.values[row] !== row / 1000) wrong++;
      if (newton?.values[row] !== Number(force(row))) wrong++;
      if (place?.values[row] !== Number(`${row}e-6`)) wrong++;
    }
    expect(wrong).toBe(0);
    expect(table.rowNumbers(999_999)).toBe(1_000_003);
    expect(table.recognised.stamps).toMatchObject([{ interval: expect.closeTo(0.001, 9), gaps: 0 }]);
  });

  it('is read with remarks, blank cells, marks and spoilt cells far down', async () => {
    const line = (row: number): string => {
      if (row === 700_000) return `wheel touched\n${row / 1000},1.5\n`;
      if (row === 800_000) return `${row / 1000},OL\n`;
      if (row === 900_000) return `${row / 1000},\n`;
      return `${row / 1000},${row === 950_000 ? '3.4s' : '1.5'}\n`;
    };
    const table = await read(largeFile('time (s),x (V)\n', line));
    expect(table.rows).toBe(rows);
    expect(table.columns[1]).toMatchObject({ blanks: 1, overloads: 1, notNumbers: { count: 1 } });
    expect(table.columns[1]?.notNumbers.first[0]?.place.line).toBe(950_003);
    expect(table.recognised.remarkLines).toBe(1);
  });
});
