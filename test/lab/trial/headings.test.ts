import { describe, expect, it } from 'vitest';
import { headings, notesOf, numbers, read } from './reading.ts';

const body = '0;1\n1;2\n2;4\n';

describe('the unit in a heading', () => {
  it.each([
    ['time (s);force (N)', '1|time|s', '1|force|N'],
    ['time [s];force [N]', '1|time|s', '1|force|N'],
    ['t / s;F / N', '1|t|s', '1|F|N'],
    ['t/s;a/(m/s²)', '1|t|s', '1|a|m/s²'],
    ['t/ms;v / m s^-1', '1|t|ms', '1|v|m s^-1'],
    ['Zeit in s;Kraft in mN', '1|Zeit|s', '1|Kraft|mN'],
    ['"time, s";"force, N"', '1|time|s', '1|force|N'],
    ['time(s);angular velocity (rad/s)', '1|time|s', '1|angular velocity|rad/s'],
    ['t (sec);U (volts)', '1|t|s', '1|U|V'],
    ['t {s};acceleration (m/(s·s))', '1|t|s', '1|acceleration|m/(s·s)'],
    ['time (total) (s);temperature (°C)', '1|time (total)|s', '1|temperature|°C'],
    ['time;force', '1|time|', '1|force|'],
    ['time (first);force (left hand)', '1|time (first)|', '1|force (left hand)|'],
    ['(s);(N)', '1|(s)|s', '1|(N)|N'],
  ])('%s', async (heading, first, second) => {
    const table = await read(`${heading}\n${body}`);
    expect(headings(table)).toEqual([first, second]);
    expect(numbers(table)).toEqual([
      [0, 1, 2],
      [1, 2, 4],
    ]);
  });

  it('that is not known is said, with the way to give one', async () => {
    const table = await read('t (s);u (counts)\n0,1;1008\n0,2;990\n');
    expect(notesOf(table, 'unknown-unit')).toEqual([
      'trials/a1.csv  "counts" in the heading "u (counts)" is not a unit known here, so the column has none. Give it under "as read": units: { "u (counts)": … }.',
    ]);
  });
});

describe('the heading above the readings', () => {
  it('is preceded by a preamble of any length, with keys and values', async () => {
    const preamble = Array.from({ length: 30 }, (_, n) => `Setting ${n};${n}`).join('\n');
    const table = await read(`Made up for a test\n${preamble}\nRate;100 Hz\n\nTime (s);Force (N)\n${body}`);
    expect(table.recognised).toMatchObject({ preambleLines: 32, headingLines: [34], firstLine: 35 });
    expect(headings(table)).toEqual(['1|Time|s', '1|Force|N']);
  });

  it('may have its units in a row of their own', async () => {
    const table = await read(`Gerät;Waage\nZeit;Kraft\ns;mN\n${body}`);
    expect(headings(table)).toEqual(['1|Zeit|s', '1|Kraft|mN']);
    expect(table.recognised).toMatchObject({ preambleLines: 1, headingLines: [2, 3], unitLine: 3 });
  });

  it.each([
    ['brackets', '(s);[m/s]'],
    ['brackets and a dash', '(s);-'],
  ])('knows units in %s', async (_, units) => {
    const table = await read(`time;speed\n${units}\n${body}`);
    expect(table.recognised.unitLine).toBe(2);
    expect(table.columns[0]?.unit?.text).toBe('s');
    expect(table.columns.map((column) => column.name)).toEqual(['time', 'speed']);
  });

  it('is not taken for units where the only names are also symbols of units', async () => {
    const table = await read(`t;m\n${body}`);
    expect(headings(table)).toEqual(['1|t|', '1|m|']);
    expect(table.recognised.unitLine).toBeNull();
  });

  it('may be a comment line', async () => {
    // First lines of circuit_rc_decharge.dat, repository pcsi3physiquestan/circuit-rc-decharge, CC0-1.0.
    const table = await read(
      '# t(microsec), uc(echelle -(0-5)V vers (0-1023)B)\n4,1008\n244,990\n160,972\n160,954\n',
    );
    expect(headings(table)).toEqual(['1|t|µs', '1|uc(echelle -(0-5)V vers (0-1023)B)|']);
    expect(numbers(table)).toEqual([
      [4, 244, 160, 160],
      [1008, 990, 972, 954],
    ]);
  });

  it('may stand in two rows, the upper filling gaps of the lower', async () => {
    const table = await read('Angular;Time\nvelocity (rad/s);(s)\n1;2\n3;4\n');
    expect(headings(table)).toEqual(['1|Angular velocity|rad/s', '1|Time|s']);
    expect(table.columns[0]?.heading).toBe('Angular velocity (rad/s)');
  });

  it('may have a rule of dashes below it', async () => {
    const table = await read('time (s) | force (N)\n---------|----------\n1 | 2\n3 | 4\n');
    expect(headings(table)).toEqual(['1|time|s', '1|force|N']);
  });

  it('is missing: the columns are called by their place, and the reader is told', async () => {
    const table = await read('0.1\t5\n0.2\t6\n');
    expect(headings(table)).toEqual(['1|column 1|', '1|column 2|']);
    expect(notesOf(table, 'no-heading')).toHaveLength(1);
  });

  it('a bracket of one word is put back to its name between blanks', async () => {
    const table = await read('time (s)   cell force (N)\n0.1 5\n0.2 6\n');
    expect(headings(table)).toEqual(['1|time|s', '1|cell force|N']);
  });

  it('a first reading with a typing error is a reading, no heading', async () => {
    const table = await read('t (s);x (m)\n0,1;3,41s\n0,2;3,5\n0,3;3,6\n');
    expect(table.rowNumbers(0)).toBe(2);
    expect(table.columns[1]?.notNumbers.first.map((bad) => bad.place.line)).toEqual([2]);
    expect(numbers(table)[1]).toEqual([Number.NaN, 3.5, 3.6]);
  });

  it('a line of numbers shortly above the heading is preamble', async () => {
    const table = await read('3;7\nt;x\n0,1;3,4\n0,2;3,5\n');
    expect(table.recognised).toMatchObject({ preambleLines: 1, headingLines: [2], firstLine: 3 });
  });
});

describe('columns that hold no numbers', () => {
  it('with words are named and kept out', async () => {
    const table = await read('index,mass,t1,uom\n1,m0,2.704,SEC\n2,m0,2.674,SEC\n3,m0+m1,1.861,SEC\n');
    expect(table.columns.map((column) => column.heading)).toEqual(['index', 't1']);
    expect(table.recognised.textColumns).toEqual([
      { heading: 'mass', run: 1, position: 2, examples: ['m0', 'm0+m1'] },
      { heading: 'uom', run: 1, position: 4, examples: ['SEC'] },
    ]);
  });

  it('with nothing are dropped, be they between others or from delimiters at the end of each line', async () => {
    const table = await read('t;x;;y;\n0,1;1;;5;\n0,2;2;;6;\n0,3;3;;7;\n');
    expect(table.columns.map((column) => [column.heading, column.position])).toEqual([
      ['t', 1],
      ['x', 2],
      ['y', 4],
    ]);
    expect(table.recognised.blankColumns).toBe(2);
    expect(table.notes).toEqual([]);
  });

  it('without heading but with numbers are kept by their place', async () => {
    const table = await read('t;x;\n0,1;1;7\n0,2;2;8\n');
    expect(headings(table)).toEqual(['1|t|', '1|x|', '1|column 3|']);
  });
});
