import { describe, expect, it } from 'vitest';
import { headings, notesOf, numbers, read, refusal } from './reading.ts';

const table2 = [
  [0, 0.1, 0.2],
  [1.5, -2.25, 3e-4],
];

describe('delimiter and decimal mark', () => {
  it.each([
    ['comma and point', 't,x\n0,1.5\n0.1,-2.25\n0.2,3e-4\n', ',', '.'],
    ['comma and point with blanks', 't , x\n 0 , 1.5\n 0.1 , -2.25\n 0.2 , 3E-4\n', ',', '.'],
    ['semicolon and point', 't;x\n0;1.5\n0.1;-2.25\n0.2;0.3e-3\n', ';', '.'],
    ['semicolon and comma', 't;x\n0;1,5\n0,1;-2,25\n0,2;3,0E-04\n', ';', ','],
    ['tab and point', 't\tx\n0\t1.5\n0.1\t-2.25\n0.2\t3e-4\n', '\t', '.'],
    ['tab and comma', 't\tx\n0\t1,5\n0,1\t-2,25\n0,2\t3e-4\n', '\t', ','],
    ['bars and point', 't|x\n0|1.5\n0.1|-2.25\n0.2|.3e-3\n', '|', '.'],
    ['blanks and point', '  t    x\n  0    1.5\n  0.1 -2.25\n  0.2  3e-4\n', 'space', '.'],
    ['blanks and comma', 't x\n0 1,5\n0,1 -2,25\n0,2 3e-4\n', 'space', ','],
    [
      'quoted cells with decimal commas between commas',
      '"t","x"\n"0","1,5"\n"0,1","-2,25"\n"0,2","3e-4"\n',
      ',',
      ',',
    ],
    ['the minus sign U+2212', 't;x\n0;1,5\n0,1;\u22122,25\n0,2;3e\u22124\n', ';', ','],
  ])('%s', async (_, text, delimiter, decimalMark) => {
    const table = await read(text);
    expect(table.recognised).toMatchObject({ delimiter, decimalMark });
    expect(numbers(table)).toEqual(table2);
    expect(headings(table)).toEqual(['1|t|', '1|x|']);
    expect(table.notes).toEqual([]);
  });

  it('is right on one line, where a comma separates digits on both sides of a semicolon', async () => {
    expect(numbers(await read('0,1;2,5'))).toEqual([[0.1], [2.5]]);
  });

  it('reads one column with decimal comma under a heading without a comma', async () => {
    const table = await read('Spannung (V)\n1,25\n1,50\n1,75\n12,05\n');
    expect(table.recognised).toMatchObject({ delimiter: 'none', decimalMark: ',' });
    expect(numbers(table)).toEqual([[1.25, 1.5, 1.75, 12.05]]);
  });

  it('reads two columns of whole numbers under two headings', async () => {
    const table = await read('count,height\n1,250\n2,300\n3,475\n');
    expect(numbers(table)).toEqual([
      [1, 2, 3],
      [250, 300, 475],
    ]);
  });

  it('says so where two whole numbers without a heading may be one number', async () => {
    const table = await read('1,5\n2,25\n13,5\n4,125\n');
    expect(table.columns).toHaveLength(2);
    expect(notesOf(table, 'doubtful-delimiter')).toEqual([
      'trials/a1.csv  Every line is two whole numbers with a comma between and there is no heading; it was read as two columns. If it is one column, say so under "as read": delimiter: none, decimal mark: ",".',
    ]);
    const told = await read('1,5\n2,25\n13,5\n4,125\n', { delimiter: 'none', decimalMark: ',' });
    expect(numbers(told)).toEqual([[1.5, 2.25, 13.5, 4.125]]);
    expect(notesOf(told, 'doubtful-delimiter')).toEqual([]);
  });

  it('refuses decimal commas between commas, which nobody can tell apart', async () => {
    expect(await refusal('t (s),x (m)\n0,1,2,5\n0,2,2,75\n0,3,3,1\n')).toEqual([
      expect.stringContaining('decimal commas cannot be told from the commas between the columns'),
    ]);
  });

  it('takes tabs rather than blanks where two-word labels stand above the columns', async () => {
    const table = await read(
      'Messung 1\t\t\tMessung 2\t\t\nt in s\tx in cm\t\tt in s\tx in cm\t\n0,0\t1,5\t\t0,0\t2,5\t\n0,1\t1,6\t\t0,1\t2,6\t\n',
    );
    expect(table.recognised).toMatchObject({ delimiter: '\t', decimalMark: ',', blankColumns: 2, runs: 2 });
  });

  it('finds a semicolon although remarks and preamble are full of commas', async () => {
    const table = await read(
      'Logger: wheel, gate, hall 2\nMade on Monday, by group 3\n\nt;x;remark\n0,1;1,5;started late, sorry\n0,2;1,6;\n0,3;1,7;ok, fine\n',
    );
    expect(table.recognised).toMatchObject({ delimiter: ';', decimalMark: ',' });
    expect(numbers(table)).toEqual([
      [0.1, 0.2, 0.3],
      [1.5, 1.6, 1.7],
    ]);
  });

  it('reads rows that are parted by blanks below a heading that is parted by tabs', async () => {
    // The habit of one of the class measurements in the shared reference recordings; numbers invented.
    const table = await read(
      'a\tua\tb\tub\n--------------------\n3.3  0.02   3.4  0.01\n3.0  0.03   3.5  0.02\n',
    );
    expect(headings(table)).toEqual(['1|a|', '1|ua|', '1|b|', '1|ub|']);
    expect(numbers(table)).toEqual([
      [3.3, 3],
      [0.02, 0.03],
      [3.4, 3.5],
      [0.01, 0.02],
    ]);
  });
});

describe('marks of thousands', () => {
  it.each([
    ['commas before a decimal point', 't\tp\n1\t1,012.5\n2\t1,013.25\n3\t998.5\n', '.', ','],
    ['points before a decimal comma', 't;p\n1;1.012,5\n2;1.013,25\n3;998,5\n', ',', '.'],
    ['apostrophes', "t;p\n1;1'012.5\n2;1'013.25\n3;998.5\n", '.', "'"],
    ['narrow no-break spaces', 't;p\n1;1\u202f012,5\n2;1\u202f013,25\n3;998,5\n', ',', '\u202f'],
  ])('%s are no doubt', async (_, text, decimalMark, thousandsMark) => {
    const table = await read(text);
    expect(table.recognised).toMatchObject({ decimalMark, thousandsMark });
    expect(numbers(table)[1]).toEqual([1012.5, 1013.25, 998.5]);
    expect(notesOf(table, 'doubtful-decimal-mark')).toEqual([]);
  });

  it('in a column beside decimal points are believed, and the reader is told', async () => {
    const table = await read('t\tn\n0.5\t1,012\n1.0\t12,013\n1.5\t998\n');
    expect(numbers(table)[1]).toEqual([1012, 12013, 998]);
    expect(notesOf(table, 'doubtful-decimal-mark')).toHaveLength(1);
  });

  it('a comma with three digits everywhere is a decimal comma, and the reader is told how to overrule', async () => {
    const text = 'a;b\n1,234;5,678\n2,345;6,789\n';
    const table = await read(text);
    expect(numbers(table)).toEqual([
      [1.234, 2.345],
      [5.678, 6.789],
    ]);
    expect(notesOf(table, 'doubtful-decimal-mark')).toEqual([
      'trials/a1.csv  Every number with a comma has three digits after it, so it may mark decimals or thousands; it was read as a decimal comma. If it marks thousands, say so under "as read": decimal mark: ".".',
    ]);
    expect(numbers(await read(text, { decimalMark: '.' }))).toEqual([
      [1234, 2345],
      [5678, 6789],
    ]);
  });

  it('one typed comma among decimal points is no number rather than a thousandfold one', async () => {
    const table = await read('t;x\n0.1;1.231\n0.2;1,234\n0.3;1.237\n0.4;1.240\n');
    expect(numbers(table)[1]).toEqual([1.231, Number.NaN, 1.237, 1.24]);
    expect(table.columns[1]?.notNumbers.first[0]).toMatchObject({
      severity: 'error',
      place: { file: 'trials/a1.csv', line: 3 },
      message: '"1,234" is not a number in column "x". The column was read with decimal point.',
    });
  });
});

describe('quoted cells', () => {
  it('may hold delimiters, quotes and line ends', async () => {
    const table = await read(
      '"time, total (s)";"""fast"" value";"note"\n1,5;2,5;"a;b"\n2,5;"3,5";"two\nlines"\n3,5;4,5;"end"\n',
    );
    expect(table.columns.map((column) => column.heading)).toEqual(['time, total (s)', '"fast" value']);
    expect(numbers(table)).toEqual([
      [1.5, 2.5, 3.5],
      [2.5, 3.5, 4.5],
    ]);
    expect([0, 1, 2].map((row) => table.rowNumbers(row))).toEqual([2, 3, 5]);
  });

  it('a quote that is never closed swallows nothing', async () => {
    const table = await read(
      `t;x;remark\n1;2;"lost\n${Array.from({ length: 40 }, (_, n) => `${n};${n};ok`).join('\n')}\n`,
    );
    expect(table.rows).toBe(41);
  });

  it('an inch mark within a heading is only a character', async () => {
    const table = await read('t (s);pipe 2" long (cm)\n1;2\n2;3\n');
    expect(table.columns[1]).toMatchObject({ name: 'pipe 2" long' });
  });
});
