import { describe, expect, it } from 'vitest';
import { notesOf, numbers, read } from './reading.ts';

const { NaN: none } = Number;

describe('cells that are no numbers', () => {
  it('among numbers are problems with file, line and cell, and NaN', async () => {
    const rows = Array.from({ length: 300 }, (_, n) => `${n};${n === 204 ? '3,41s' : `${n},5`}`).join('\n');
    const table = await read(`edge;edge time (s)\n\n${rows}\n`);
    expect(table.columns[1]?.notNumbers).toEqual({
      count: 1,
      first: [
        {
          code: 'not-a-number',
          severity: 'error',
          place: { file: 'trials/a1.csv', line: 207 },
          message:
            '"3,41s" is not a number in column "edge time (s)". The column was read with decimal comma.',
        },
      ],
    });
    expect(table.columns[1]?.values[204]).toBeNaN();
    expect(table.columns[1]?.blanks).toBe(0);
    expect(notesOf(table, 'not-numbers')).toHaveLength(1);
    expect(table.notes.every((note) => note.severity === 'warning')).toBe(true);
  });

  it('are counted all and kept to twenty', async () => {
    const rows = Array.from({ length: 500 }, (_, n) => (n % 3 === 0 ? `${n};x${n}` : `${n};${n}`)).join('\n');
    const table = await read(`n;value\n${rows}\n`);
    expect(table.columns[1]?.notNumbers.count).toBe(167);
    expect(table.columns[1]?.notNumbers.first).toHaveLength(20);
  });

  it.each(['-', '--', '---', 'NaN', 'nan', 'n/a', 'NA', '#N/A', 'null', '?'])(
    '%s counts as blank',
    async (mark) => {
      const table = await read(`t;x\n0,1;1\n0,2;${mark}\n0,3;3\n`);
      expect(numbers(table)[1]).toEqual([1, none, 3]);
      expect(table.columns[1]).toMatchObject({ blanks: 1, overloads: 0, notNumbers: { count: 0 } });
      expect(notesOf(table, 'blank-cells')).toEqual([
        'trials/a1.csv:3  Column "x" has 1 blank cell, this one first.',
      ]);
    },
  );

  it.each(['OL', 'O.L', '-OL', 'ovl', 'overload', 'Over Range', 'inf', '-Infinity', '####'])(
    '%s counts as over range',
    async (mark) => {
      const table = await read(`t;x\n0,1;1\n0,2;${mark}\n0,3;3\n`);
      expect(table.columns[1]).toMatchObject({ blanks: 0, overloads: 1, notNumbers: { count: 0 } });
      expect(notesOf(table, 'blank-cells')).toEqual([
        'trials/a1.csv:3  Column "x" has 1 cell marked as over range, this one first.',
      ]);
    },
  );

  it('a column that is blank in all its first lines is read where it begins', async () => {
    const rows = Array.from({ length: 2000 }, (_, n) => `${n},${n % 500 === 499 ? n : ''},7`).join('\n');
    const table = await read(`t,slow,fast\n${rows}\n`);
    expect(table.columns[1]?.heading).toBe('slow');
    expect(table.columns[1]?.blanks).toBe(1996);
    expect(table.columns[1]?.values[1999]).toBe(1999);
  });
});

describe('cells that bear a unit', () => {
  const rows = Array.from({ length: 100 }, (_, n) => `${n};${n},25 g;${n} °C`).join('\n');

  it('throughout a column are read, and the unit is that of the column', async () => {
    const table = await read(`n;mass;T\n${rows}\n`);
    expect(table.columns.map((column) => column.unit?.text ?? '')).toEqual(['', 'g', '°C']);
    expect(table.columns[1]?.values[99]).toBe(99.25);
    expect(table.recognised.cellUnitColumns).toEqual(['mass', 'T']);
    expect(table.notes).toEqual([]);
  });

  it('of another unit than the rest are no numbers', async () => {
    const table = await read(`n;mass;T\n${rows}\n100;5 mg;1 °C\n`);
    expect(table.columns[1]?.notNumbers).toMatchObject({ count: 1, first: [{ place: { line: 102 } }] });
  });

  it('between commas and points do not mislead', async () => {
    const table = await read(`t,F\n${Array.from({ length: 9 }, (_, n) => `0.${n} s,1.${n} N`).join('\n')}\n`);
    expect(table.recognised.delimiter).toBe(',');
    expect(numbers(table)[1]?.slice(0, 3)).toEqual([1, 1.1, 1.2]);
  });

  it('that are marks, not units, stay words', async () => {
    const table = await read('n,part\n1,1a\n2,2a\n3,3a\n4,4a\n');
    expect(table.columns.map((column) => column.heading)).toEqual(['n']);
  });
});

describe('lines among the readings', () => {
  it('of words are remarks, kept out and told', async () => {
    const table = await read('t;x\n0,1;1\nwheel touched\n0,2;2\n0,3;3\n');
    expect(numbers(table)[0]).toEqual([0.1, 0.2, 0.3]);
    expect(notesOf(table, 'remark')).toEqual([
      'trials/a1.csv:3  The remark "wheel touched" among the readings was kept out.',
    ]);
    expect([0, 1, 2].map((row) => table.rowNumbers(row))).toEqual([2, 4, 5]);
  });

  it('are told a dozen times and then counted', async () => {
    const table = await read(`t;x\n${'word\n2;3\n'.repeat(100)}`);
    expect(table.columns.map((column) => column.heading)).toEqual(['t', 'x']);
    expect(notesOf(table, 'remark')).toHaveLength(13);
    expect(notesOf(table, 'remark').at(-1)).toBe('trials/a1.csv  There are 87 more notes of this kind.');
  });

  it('of several words between blanks are remarks too', async () => {
    const table = await read('t x y\n1 2 3\ncambio de 2 pilas\n2 3 4\nheater off now\n3 4 5\n');
    expect(numbers(table)).toEqual([
      [1, 2, 3],
      [2, 3, 4],
      [3, 4, 5],
    ]);
    expect(table.recognised.remarkLines).toBe(2);
  });

  it('a remark behind the numbers leaves the reading whole', async () => {
    const table = await read('t,x\n1,2\n2,3,cart bumped\n3,4\n');
    expect(numbers(table)).toEqual([
      [1, 2, 3],
      [2, 3, 4],
    ]);
    expect(notesOf(table, 'remark')).toEqual([
      'trials/a1.csv:3  The remark "cart bumped" among the readings was kept out.',
    ]);
  });

  it('comments and blank lines are passed over, numbers in them too', async () => {
    const table = await read('t,x\n1,2\n# 9,9\n\n2,3\n% 8,8\n3,4\n;\n');
    expect(numbers(table)[0]).toEqual([1, 2, 3]);
    expect(table.recognised).toMatchObject({ commentLines: 2 });
  });

  it('a reading with all its cells spoilt is still a reading', async () => {
    const table = await read('t;x\n1;2\nERR;ERR\n3;4\n');
    expect(numbers(table)).toEqual([
      [1, none, 3],
      [2, none, 4],
    ]);
    expect(table.columns.map((column) => column.notNumbers.count)).toEqual([1, 1]);
  });

  it('that end early have blank cells, and the reader is told', async () => {
    const table = await read('t;x;y\n1;2;3\n2;3\n3;4;5\n4\n');
    expect(numbers(table)[2]).toEqual([3, none, 5, none]);
    expect(notesOf(table, 'short-lines')).toEqual([
      'trials/a1.csv:3  2 lines have fewer cells than the table has columns, this one first; the missing cells count as blank.',
    ]);
  });

  it('that lack a cell between blanks are left out, because nobody can tell which cell it is', async () => {
    const table = await read('t     x     y\n1.0   2.0   3.0\n1.5         3.5\n2.0   3.0   4.0\n');
    expect(numbers(table)[1]).toEqual([2, 3]);
    expect(notesOf(table, 'short-lines')).toEqual([
      'trials/a1.csv:3  1 line has fewer cells than the table has columns, this one first; between blanks nobody can tell which cell is missing, so lines like this were left out.',
    ]);
  });

  it('with more numbers than columns are told', async () => {
    const table = await read('t;x\n1;2\n2;3;4\n3;4\n');
    expect(notesOf(table, 'long-lines')).toEqual([
      expect.stringContaining('1 line has numbers to the right of the last column, this one first'),
    ]);
  });

  it('a last line without an end is read', async () => {
    expect(numbers(await read('t;x\n1;2\n3;4'))).toEqual([
      [1, 3],
      [2, 4],
    ]);
  });
});

describe('time stamps', () => {
  const stamps = (times: readonly number[]): string =>
    `time (s);x (m)\n${times.map((time) => `${time};1`).join('\n')}\n`;

  it('that are regular have an interval and no notes', async () => {
    const table = await read(stamps(Array.from({ length: 50 }, (_, n) => n / 50)));
    expect(table.recognised.stamps).toEqual([
      { heading: 'time (s)', run: 1, interval: expect.closeTo(0.02, 9), repeated: 0, backward: 0, gaps: 0 },
    ]);
    expect(table.notes).toEqual([]);
  });

  it('with a gap: where, and how long', async () => {
    const table = await read(stamps([0, 0.1, 0.2, 0.3, 0.4, 0.5, 0.6, 0.7, 0.8, 0.9, 1.5, 1.6]));
    expect(notesOf(table, 'gaps')).toEqual([
      'trials/a1.csv:12  Column "time (s)" has 1 gap longer than one and a half of its interval of 0.1 s, first before this line; the longest is 0.6 s.',
    ]);
  });

  it('repeated and backward: how often and where first', async () => {
    const table = await read(stamps([0, 0.1, 0.2, 0.2, 0.3, 0.25, 0.4, 0.5, 0.6, 0.7]));
    expect(notesOf(table, 'repeated-stamps')).toEqual([
      'trials/a1.csv:5  1 time stamp of column "time (s)" repeats the one before, this one first.',
    ]);
    expect(notesOf(table, 'backward-stamps')).toEqual([
      'trials/a1.csv:7  Time runs backward once in column "time (s)", first here, to 0.25 s.',
    ]);
  });

  it('of edges that come ever faster have no gaps', async () => {
    const table = await read(stamps(Array.from({ length: 60 }, (_, n) => Math.sqrt(n) / 3)));
    expect(table.recognised.stamps).toMatchObject([{ interval: null, gaps: 0 }]);
    expect(table.notes).toEqual([]);
  });

  it('are not looked for in a list of durations', async () => {
    const table = await read(stamps([1.41, 1.39, 1.42, 1.4, 2.0, 1.98, 2.01, 1.97]));
    expect(table.recognised.stamps).toEqual([]);
  });
});
