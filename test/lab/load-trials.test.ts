import { describe, expect, it } from 'vitest';
import { loadTrials, readLab } from '../../src/lab/index.ts';
import { fail, formatProblem, problem, succeed } from '../../src/problem/index.ts';
import { reduceTrials } from '../../src/run/index.ts';
import { change, labFrom, pipelineFrom, SLOPE_LAB, sentencesOf, valueFrom } from './slope-lab.ts';

const withTrials = (...entries: readonly string[]) =>
  `${SLOPE_LAB}trials:\n${entries.map((entry) => `  - { ${entry} }\n`).join('')}`;

/** Every file that was asked for, in order. */
const asked: string[] = [];

function load(text: string, files: Readonly<Record<string, string>>) {
  asked.length = 0;
  return loadTrials(labFrom(text), (file) => {
    asked.push(file);
    const content = files[file];
    return Promise.resolve(
      content === undefined
        ? fail(problem('no-file', {}, `There is no file "${file}" in the lab folder.`))
        : succeed(new TextEncoder().encode(content)),
    );
  });
}

/** Half a·t² with a = 1 m/s², every tenth of a second. */
const rows = (count: number, separator = ',') =>
  Array.from(
    { length: count },
    (_, row) => `${(row / 10).toFixed(1)}${separator}${(row * row * 5).toFixed(0)}`,
  ).join('\n');

const READS = 'reads: { ranger: { t: "time", value: "way" } }';

describe('the readings of a trial', () => {
  it('come in SI whatever unit the file has, run by run', async () => {
    const [run] = valueFrom(
      await load(withTrials(`file: a.csv, ${READS}`), { 'a.csv': `time (s),way (mm)\n${rows(11)}\n` }),
    );
    const [time, way] = run.readings[0].columns;
    expect([time.name, way.name]).toEqual(['t', 'value']);
    expect(way.values[10]).toBeCloseTo(0.5, 12);
    expect(time.values[10]).toBeCloseTo(1, 12);
    expect(run.sha256).toMatch(/^[0-9a-f]{64}$/);
  });

  it('of a file with several runs are read once', async () => {
    const text = withTrials(
      `name: one, file: a.csv, run: 1, ${READS}`,
      `name: two, file: a.csv, run: 2, ${READS}`,
    );
    const runs = valueFrom(
      await load(text, {
        'a.csv': 'run 1,,run 2,\ntime (s),way (m),time (s),way (m)\n0,0,0,0\n1,1,1,2\n2,4,2,8\n,,3,18\n',
      }),
    );
    expect(asked).toEqual(['a.csv']);
    expect(runs.map(({ entry, readings }) => [entry.name, readings[0].columns[1].values.length])).toEqual([
      ['one', 3],
      ['two', 4],
    ]);
  });

  it('take a unit from the lab file where the table names none', async () => {
    const text = withTrials(`file: a.csv, ${READS}, as read: { units: { way: cm } }`);
    const files = { 'a.csv': `time (s),way\n${rows(11)}\n` };
    const [run] = valueFrom(await load(text, files));
    expect(run.readings[0].columns[1].values[10]).toBeCloseTo(5, 12);
    expect(sentencesOf(await load(withTrials(`file: a.csv, ${READS}`), files))).toEqual([
      'a.csv  The column "way" names no unit; "ranger" reads there what has the dimension of length (m). Say it in the lab file: "as read: { units: { way: … } }".',
    ]);
  });
});

describe('what is wrong with a trial', () => {
  const said = async (file: string, entry = `file: a.csv, ${READS}`) =>
    sentencesOf(await load(withTrials(entry), { 'a.csv': file }));

  it('a file that is not there, at the entry that names it', async () => {
    const [told] = sentencesOf(await load(withTrials(`file: b.csv, ${READS}`), {}));
    expect(told).toBe('lab.yaml:33:5  There is no file "b.csv" in the lab folder.');
  });

  it('a column that is not there, with those that are', async () => {
    const [told] = await said(`time (s),distance (m)\n${rows(11)}\n`);
    expect(told).toMatch(/^a\.csv.*"way".*"?distance/);
  });

  it('text where a number should be, at its line', async () => {
    const [told] = await said(`time (s),way (m)\n0.0,0\n0.1,5\n0.2,abc\n0.3,45\n0.4,80\n`);
    expect(told).toMatch(/^a\.csv:4(:\d+)? {2}"abc" is not a number in column "way \(m\)"/);
  });

  it('a unit of another dimension', async () => {
    expect(await said(`time (s),way (N)\n${rows(11)}\n`)).toEqual([
      'a.csv  The column "way (N)" has the dimension of force (kg·m/s²); "ranger" reads there what has the dimension of length (m).',
    ]);
  });

  it('two things wrong in two files are two messages', async () => {
    const text = withTrials(`file: a.csv, ${READS}`, `file: b.csv, ${READS}`, `file: c.csv, ${READS}`);
    const files = { 'a.csv': `time (s),way (N)\n${rows(11)}\n`, 'c.csv': `time (s),way (m)\n${rows(11)}\n` };
    expect(sentencesOf(await load(text, files))).toHaveLength(2);
  });

  it('too few readings are told at the step, with the run', async () => {
    const text = withTrials(`name: short, file: a.csv, ${READS}`);
    const trials = valueFrom(await load(text, { 'a.csv': `time (s),way (m)\n0.0,0\n0.1,5\n` }));
    const { failed } = valueFrom(reduceTrials(pipelineFrom(text), trials));
    expect(failed.flatMap(({ problems }) => problems.map(formatProblem))).toEqual([
      'lab.yaml:28:7, reduction, line of 2*s against t², run "short"  2 readings are there; a line needs at least 3.',
    ]);
  });

  it('a column of the instrument that the trial does not name', async () => {
    const text = withTrials('name: half, file: a.csv, reads: { ranger: way }');
    const trials = valueFrom(await load(text, { 'a.csv': `time (s),way (m)\n${rows(11)}\n` }));
    const { failed } = valueFrom(reduceTrials(pipelineFrom(text), trials));
    const [told] = failed.flatMap(({ problems }) => problems.map(formatProblem));
    expect(told).toMatch(/"t"/);
  });

  it('a fit whose parameters the readings cannot tell apart, and one that finds none', async () => {
    const fitted = (as: string, free: string) =>
      change(withTrials(`name: flat, file: a.csv, ${READS}`), [
        '    - line: { of: 2*s, against: t^2, slope: a }',
        `    - fit: { of: s, as: "${as}", free: { ${free} } }\n    - value: { of: 2*q, gives: a }`,
      ]);
    const told = async (text: string, file: string) => {
      const trials = valueFrom(await load(text, { 'a.csv': file }));
      const { failed, runs } = valueFrom(reduceTrials(pipelineFrom(text), trials));
      return [...failed.flatMap(({ problems }) => problems), ...runs.flatMap(({ notes }) => notes)].map(
        formatProblem,
      );
    };
    const good = `time (s),way (m)\n${rows(11)}\n`;
    expect(await told(fitted('q*t^2', 'q: 1 m/s^2'), good)).toEqual([]);
    const twice = await told(fitted('(q + r)*t^2', 'q: 1 m/s^2, r: 1 m/s^2'), good);
    expect(twice).toEqual([
      expect.stringMatching(/run "flat" .*cannot tell q and r apart.*none of them is known alone/),
    ]);
    const never = await told(fitted('q*t^2*ln(-1 - (q/q_1)^2)', 'q: 1 m/s^2, q_1: 1 m/s^2'), good);
    expect(never).toEqual([expect.stringMatching(/run "flat".*(finite|NaN)/s)]);
  });
});

describe('the part of a run that counts', () => {
  const file = { 'a.csv': `time (s),way (mm)\n${rows(11)}\n` };
  const loaded = async (counts: string) => {
    const [run] = valueFrom(await load(withTrials(`file: a.csv, ${READS}, counts: ${counts}`), file));
    return [Array.from(run.readings[0].columns[0].values), run.outside] as const;
  };

  it('reaches from its first time to its last, both counted, and what lies outside is told', async () => {
    const [times, outside] = await loaded('{ from: 0.31 s, to: 600 ms }');
    expect(times).toEqual([0.4, 0.5, 0.6]);
    expect(outside).toEqual([{ instrument: 'ranger', before: 4, behind: 4, of: 11 }]);
    expect((await loaded('{ from: 0.3 s, to: 0.3 s }'))[0]).toEqual([0.3]);
  });

  it('may be told by the numbers of the readings, and have one end only', async () => {
    expect((await loaded('{ from: 2, to: 4 }'))[0]).toEqual([0.1, 0.2, 0.3]);
    expect((await loaded('{ from: 10 }'))[0]).toEqual([0.9, 1]);
    expect((await loaded('{ to: 0.1 s }'))[1]).toEqual([
      { instrument: 'ranger', before: 0, behind: 9, of: 11 },
    ]);
    expect((await loaded('{ from: 9, to: 0.9 s }'))[0]).toEqual([0.8, 0.9]);
  });

  it('leaves the digest that of the whole file', async () => {
    const [whole] = valueFrom(await load(withTrials(`file: a.csv, ${READS}`), file));
    const [part] = valueFrom(await load(withTrials(`file: a.csv, ${READS}, counts: { from: 3 }`), file));
    expect(part.sha256).toBe(whole.sha256);
    expect(part.table.rows).toBe(whole.table.rows);
  });

  it('has two ends in order, each a time or a number', () => {
    const sayings = (counts: string) =>
      sentencesOf(readLab(withTrials(`file: a.csv, ${READS}, counts: ${counts}`), 'lab.yaml'));
    expect(sayings('{ from: 2 s, to: 1 s }')).toEqual([
      expect.stringContaining('ends at 1 s before it begins at 2 s'),
    ]);
    expect(sayings('{ from: 0 }')).toEqual([
      expect.stringContaining('neither a time nor the number of a reading'),
    ]);
    expect(sayings('{ from: 1.5 }')).toEqual([expect.stringContaining('neither a time nor the number')]);
    expect(sayings('{ to: 3 m }')).toEqual([expect.stringContaining('"3 m" is neither a time nor')]);
    expect(sayings('{}')).toEqual([expect.stringContaining('says neither "from" nor "to"')]);
  });

  it('cannot be empty', async () => {
    const outcome = await load(withTrials(`name: early, file: a.csv, ${READS}, counts: { from: 5 s }`), file);
    expect(!outcome.ok && outcome.problems.map(formatProblem)).toEqual([
      expect.stringContaining(
        'No reading of "ranger" lies in the part of early that counts; a.csv has 11 of them.',
      ),
    ]);
  });
});
