import { describe, expect, it } from 'vitest';
import { headings, notesOf, numbers, read, refusal } from './reading.ts';

describe('what the lab file tells', () => {
  it('decides over delimiter and decimal mark', async () => {
    const table = await read('a;b\n1,2;3,4\n5,6;7,8\n', { delimiter: ',', decimalMark: '.' });
    expect(table.recognised).toMatchObject({ delimiter: ',', told: ['delimiter', 'decimal mark'] });
  });

  it.each([
    ['tab', '1.5\t2.5\n'],
    ['\\t', '1.5\t2.5\n'],
    ['space', '1.5   2.5\n'],
    ['semicolon', '1.5;2.5\n'],
    ['|', '1.5|2.5\n'],
  ])('delimiter may be written %s', async (delimiter, text) => {
    expect(numbers(await read(text, { delimiter }))).toEqual([[1.5], [2.5]]);
  });

  it('decides how many rows make the heading, and which line is the first reading', async () => {
    const text = 'Setup;A\nlong;wide\nname;tag\n1;2\n3;4\n5;6\n';
    expect(headings(await read(text, { headerRows: 2 }))).toEqual(['1|long name|', '1|wide tag|']);
    expect(headings(await read(text, { headerRows: 0 }))).toEqual(['1|column 1|', '1|column 2|']);
    const later = await read(text, { firstRow: 5, headerRows: 0 });
    expect(numbers(later)).toEqual([
      [3, 5],
      [4, 6],
    ]);
    expect(later.rowNumbers(0)).toBe(5);
    expect(later.recognised).toMatchObject({ firstLine: 5, preambleLines: 4 });
  });

  it('reads a heading of numbers, which is not taken for one by itself', async () => {
    const text = 't;1;2;3\n0,5;4,5;5,5;6,5\n1,5;4,6;5,6;6,6\n';
    expect(headings(await read(text, { headerRows: 1 }))).toEqual(['1|t|', '1|1|', '1|2|', '1|3|']);
  });

  it('ends the readings at a line', async () => {
    const table = await read('t;x\n1;2\n2;3\nMean;2,5\n', { lastRow: 3 });
    expect(numbers(table)).toEqual([
      [1, 2],
      [2, 3],
    ]);
  });

  it('reads another table of the same file', async () => {
    const text = 't;x\n0;1\n1;2\n2;3\n\nquantity;value\nmass;2,5\nlength;3,5\n';
    const table = await read(text, { firstRow: 7 });
    expect(headings(table)).toEqual(['1|value|']);
    expect(numbers(table)).toEqual([[2.5, 3.5]]);
    expect(table.recognised).toMatchObject({ headingLines: [6], firstLine: 7 });
  });

  it('gives units to columns by heading or by name', async () => {
    const table = await read('t;u (counts)\n0,1;5\n0,2;6\n', { units: { t: 'ms', 'u (counts)': 'mV' } });
    expect(headings(table)).toEqual(['1|t|ms', '1|u (counts)|mV']);
    expect(notesOf(table, 'unknown-unit')).toEqual([]);
  });

  it('is refused where it cannot be obeyed, each with what would be right', async () => {
    const text = 'time;x\n1;2\n';
    expect(await refusal(text, { delimiter: ':', decimalMark: "'", firstRow: 0, headerRows: 1.5 })).toEqual([
      'trials/a1.csv  ":" cannot be a delimiter. Write ",", ";", "|", "tab", "space" or "none".',
      'trials/a1.csv  "\'" cannot be a decimal mark. Write "." or ",".',
      'trials/a1.csv  "header rows: 1.5" must be a whole number of at least 0.',
      'trials/a1.csv  "first row: 0" must be a whole number of at least 1.',
    ]);
    expect(await refusal(text, { firstRow: 99 })).toEqual([
      'trials/a1.csv:99  The first reading was told to be here, but no line with numbers follows.',
    ]);
    expect(await refusal(text, { units: { time: 's', tim: 's', x: 'furlong' } })).toEqual([
      'trials/a1.csv  A unit is told for column "tim", which is not there. Did you mean "time"?',
      expect.stringMatching(/^trials\/a1\.csv {2}"furlong" is not a unit known here/),
    ]);
  });

  it('stops when asked to', async () => {
    const { readTrial } = await import('../../../src/lab/trial/index.ts');
    const text = `t;x\n${'1;2\n'.repeat(70_000)}`;
    const outcome = await readTrial(new TextEncoder().encode(text), {
      file: 'a.csv',
      signal: { aborted: true },
    });
    expect(outcome).toMatchObject({ ok: false, problems: [{ code: 'interrupted' }] });
  });
});
