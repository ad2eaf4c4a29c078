import { describe, expect, it } from 'vitest';
import { headings, notesOf, numbers, read } from './reading.ts';

const sideBySide = '0;1;0;5\n1;2;1;6\n2;4;2;8\n';

describe('runs side by side', () => {
  it.each([
    [
      'a label before each heading',
      'Run 1: t (s);Run 1: x (m);Run 2: t (s);Run 2: x (m)',
      'label in the heading',
    ],
    [
      'a label behind each heading',
      't (s) - Run 1;x (m) - Run 1;t (s) - Run 2;x (m) - Run 2',
      'label in the heading',
    ],
    [
      'a label in another language',
      'Messung #1 t (s);Messung #1 x (m);Messung #2 t (s);Messung #2 x (m)',
      'label in the heading',
    ],
    ['the same headings again', 't (s);x (m);t (s);x (m)', 'repeated headings'],
    ['numbers behind the headings', 't1 (s);x1 (m);t2 (s);x2 (m)', 'numbered headings'],
    ['numbers behind the units', 't (s) 1;x (m) 1;t (s) 2;x (m) 2', 'numbered headings'],
    ['numbers from the second on', 't (s);x (m);t (s).1;x (m).1', 'numbered headings'],
    ['a row of labels', 'Run 1;;Run 2;\nt (s);x (m);t (s);x (m)', 'row of labels'],
    [
      'a row of names at the places where the headings begin again',
      'heavy;;light;\nt (s);x (m);t (s);x (m)',
      'row of labels',
    ],
    ['a row of labels and a row of units', 'Run 1;;Run 2;\nt;x;t;x\ns;m;s;m', 'row of labels'],
  ])('are told apart by %s', async (_, heading, by) => {
    const table = await read(`${heading}\n${sideBySide}`);
    expect(headings(table)).toEqual(['1|t|s', '1|x|m', '2|t|s', '2|x|m']);
    expect(table.recognised).toMatchObject({ runs: 2, runsSideBySide: 2, runsSideBySideBy: by });
    expect(numbers(table)).toEqual([
      [0, 1, 2],
      [1, 2, 4],
      [0, 1, 2],
      [5, 6, 8],
    ]);
  });

  it('may have blank columns between them', async () => {
    const table = await read('t;x;;t;x\n0;1;;0;5\n1;2;;1;6\n');
    expect(headings(table)).toEqual(['1|t|', '1|x|', '2|t|', '2|x|']);
  });

  it('may share their time', async () => {
    const table = await read('t (s);F (N);F (N);F (N)\n0;1;2;3\n1;1;2;3\n2;1;;3\n');
    expect(headings(table)).toEqual(['1|t|s', '1|F|N', '2|F|N', '3|F|N']);
    expect(table.columns.map((column) => column.values.length)).toEqual([3, 3, 3, 3]);
  });

  it.each([
    ['blank cells', 't;x;t;x\n0;1;0;5\n1;2;1;6\n2;4;;\n3;8;;\n'],
    ['lines that end early', 't;x;t;x\n0;1;0;5\n1;2;1;6\n2;4\n3;8\n'],
  ])('may differ in length, the shorter one ending in %s', async (_, text) => {
    const table = await read(text);
    expect(numbers(table)).toEqual([
      [0, 1, 2, 3],
      [1, 2, 4, 8],
      [0, 1],
      [5, 6],
    ]);
    expect(table.rows).toBe(4);
    expect(notesOf(table, 'blank-cells')).toEqual([]);
  });

  it('between blanks may differ in length too', async () => {
    const table = await read('t x t x\n0 1 0 5\n1 2 1 6\n2 4\n');
    expect(numbers(table)).toEqual([
      [0, 1, 2],
      [1, 2, 4],
      [0, 1],
      [5, 6],
    ]);
  });

  it('are not seen where numbered columns are gates of one run', async () => {
    const table = await read('index,t1,t2,v1,v2\n1,0.5,0.9,1.1,1.2\n2,0.6,0.8,1.3,1.4\n');
    expect(table.recognised.runs).toBe(1);
    expect(table.columns.map((column) => column.name)).toEqual(['index', 't1', 't2', 'v1', 'v2']);
  });

  it('are not seen in repeated measurements of one thing', async () => {
    const table = await read(
      'length (m);trial 1 (s);trial 2 (s);trial 3 (s)\n0.5;1.4;1.5;1.4\n1.0;2.0;2.1;2.0\n',
    );
    expect(table.recognised.runs).toBe(1);
  });
});

describe('runs one below another', () => {
  it('are split where the heading stands again', async () => {
    const table = await read('t (s);x (m)\n0;1\n1;2\nt (s);x (m)\n0;5\n1;6\n2;7\n');
    expect(headings(table)).toEqual(['1|t|s', '1|x|m', '2|t|s', '2|x|m']);
    expect(numbers(table)).toEqual([
      [0, 1],
      [1, 2],
      [0, 1, 2],
      [5, 6, 7],
    ]);
    expect([table.rowNumbers(1, 1), table.rowNumbers(0, 2), table.rowNumbers(2, 2)]).toEqual([3, 5, 7]);
    expect(table.rows).toBe(3);
  });

  it('with labels, blank lines and a row of units', async () => {
    const table = await read(
      'Run 1\nt;x\ns;m\n0;1\n1;2\n\nRun 2\nt;x\ns;m\n0;5\n1;6\n\nRun 3\nt;x\ns;m\n0;8\n',
    );
    expect(table.recognised).toMatchObject({
      runs: 3,
      runsStacked: 3,
      runLabels: ['Run 1', 'Run 2', 'Run 3'],
    });
    expect(numbers(table)).toEqual([[0, 1], [1, 2], [0, 1], [5, 6], [0], [8]]);
    expect(table.notes).toEqual([]);
  });

  it('with their heading in a comment', async () => {
    const table = await read('# t, x\n0,1\n1,2\n# t, x\n0,5\n1,6\n# done\n');
    expect(numbers(table)).toEqual([
      [0, 1],
      [1, 2],
      [0, 1],
      [5, 6],
    ]);
  });

  it('with labels alone', async () => {
    const table = await read('t x\n0 1\n1 2\nRun 2\n0 5\n1 6\n');
    expect(numbers(table)).toEqual([
      [0, 1],
      [1, 2],
      [0, 1],
      [5, 6],
    ]);
  });

  it('parted by nothing but a blank line stay one run, with a note', async () => {
    const table = await read('# x y\n0 1\n1 2\n2 3\n\n\n0 5\n1 6\n');
    expect(table.recognised.runs).toBe(1);
    expect(notesOf(table, 'restart')).toEqual([
      expect.stringContaining('trials/a1.csv:7  Below a blank line'),
    ]);
  });

  it('many of them, beyond the first lines', async () => {
    const block = `t;x\n${Array.from({ length: 300 }, (_, n) => `${n};${n * n}`).join('\n')}\n`;
    const table = await read(block.repeat(7));
    expect(table.recognised.runs).toBe(7);
    expect(table.columns.every((column) => column.values.length === 300)).toBe(true);
    expect(table.rowNumbers(0, 7)).toBe(6 * 301 + 2);
  });

  it('stop before another table with another heading, which the reader is told', async () => {
    const table = await read('t;x\n0;1\n1;2\n2;3\n\nquantity;value\nmass;2,5\nlength;3,5\n');
    expect(numbers(table)).toEqual([
      [0, 1, 2],
      [1, 2, 3],
    ]);
    expect(notesOf(table, 'other-table')).toEqual([
      'trials/a1.csv:6  Another table with another heading begins here; it was not read. To read it, give its "first row" under "as read".',
    ]);
  });
});

describe('runs side by side and one below another', () => {
  it('are counted along the lines first', async () => {
    const table = await read('t;x;t;x\n0;1;0;2\n1;1;1;2\nt;x;t;x\n0;3;0;4\n1;3;1;4\n');
    expect(headings(table)).toEqual(['1|t|', '1|x|', '2|t|', '2|x|', '3|t|', '3|x|', '4|t|', '4|x|']);
    expect(numbers(table).filter((_, column) => column % 2 === 1)).toEqual([
      [1, 1],
      [2, 2],
      [3, 3],
      [4, 4],
    ]);
  });
});
