import { describe, expect, it } from 'vitest';
import { isRecord, listAt } from '../../app/bench/plain.ts';
import { createRoom } from '../../app/compute/room.ts';
import type { LabSource } from '../../app/compute/source.ts';
import { trialFileTask } from '../../app/compute/tasks/trial-file.ts';
import { trialReadingsTask } from '../../app/compute/tasks/trial-readings.ts';
import { trialsTask } from '../../app/compute/tasks/trials.ts';
import { writeEnd, writeStretch } from '../../app/stages/trials/counted-stretch.ts';
import { guessColumns, readColumnMap, writeColumnMap } from '../../app/stages/trials/match-columns.ts';
import { readDocument, readLab } from '../../src/lab/index.ts';

const lab = (trials: string): string => `benchwright: 1
title: A cart that rolls
question: How fast does it roll?
quantities:
  v: { is: speed, value: 0.5 m/s }
model:
  start: { x: 0 m }
  rates: { x: v }
  lasts: 2 s
instruments:
  sensor: { kind: sampled, of: x, rate: 10 Hz }
reduction:
  each run:
    - readings: { of: sensor, gives: [t, x] }
    - line: { of: x, against: t, slope: w }
results:
  w: { is: speed, unit: m/s, theory: v }
trials:
${trials}
`;

/** What another program wrote: a decimal comma, units in the heading, words behind, a remark on top. */
const untidy = `Protokoll vom Nachmittag;;
Zeit (s);Ort (mm);Bemerkung
${Array.from({ length: 20 }, (_, i) => `${(i / 10).toFixed(1).replace('.', ',')};${50 * i};${i === 0 ? 'los' : ''}`).join('\n')}
`;

function sourceOf(text: string, files: Readonly<Record<string, string>>): LabSource {
  const encoder = new TextEncoder();
  return {
    text,
    files: Object.entries(files).map(([path, content]) => ({
      path,
      digest: `${path} ${content.length}`,
      from: { bytes: new Uint8Array(encoder.encode(content)) },
    })),
    settings: [],
    without: [],
  };
}

const report = { progress: () => undefined };
const reads = 'reads: { sensor: { t: Zeit (s), value: Ort (mm) } }';
const good = `  - { file: trials/a.csv, ${reads} }`;

describe('a file of readings', () => {
  it('is described column by column, before any run uses it', async () => {
    const source = sourceOf(lab(good), { 'trials/a.csv': untidy });
    const [file] = source.files;
    if (file === undefined) throw new Error('no file');
    const seen = await trialFileTask.run(createRoom(), { file, asRead: {} }, report);
    if (!seen.ok) throw new Error(seen.problems[0]?.message);
    expect(seen.value.columns.map(({ heading, unit }) => [heading, unit])).toEqual([
      ['Zeit (s)', 's'],
      ['Ort (mm)', 'mm'],
    ]);
    expect(seen.value.sentences.join(' ')).toContain('a decimal comma');
    expect(seen.value.wordColumns).toEqual(['Bemerkung']);
  });

  it('is matched to the instrument by the dimension of its columns, and the match is written as the lab file has it', async () => {
    const source = sourceOf(lab(good), { 'trials/a.csv': untidy });
    const [file] = source.files;
    const read = readLab(source.text, 'lab.yaml');
    if (file === undefined || !read.ok) throw new Error('no lab');
    const seen = await trialFileTask.run(createRoom(), { file, asRead: {} }, report);
    if (!seen.ok) throw new Error(seen.problems[0]?.message);
    const { instruments } = read.value;
    const guess = guessColumns(instruments, seen.value.columns, []);
    expect(writeColumnMap(guess, instruments)).toEqual({ sensor: { t: 'Zeit (s)', value: 'Ort (mm)' } });
    const document = readDocument(source.text, 'lab.yaml');
    const [form] = document.ok ? listAt(document.value.data, ['trials']) : [];
    expect(readColumnMap(isRecord(form) ? form.reads : null, instruments)).toEqual(guess);
  });
});

describe('the runs of a lab', () => {
  it('each say what they give, and one that is broken does not hide the others', async () => {
    const text = lab(
      `${good}\n  - { file: trials/gone.csv, ${reads} }\n  - { file: trials/b.csv, ${reads}, set aside: the cart was pushed }`,
    );
    const source = sourceOf(text, { 'trials/a.csv': untidy, 'trials/b.csv': `${untidy} ` });
    const seen = await trialsTask.run(createRoom(), { source }, report);
    if (!seen.ok) throw new Error(seen.problems[0]?.message);
    const [first, second, third] = seen.value;
    expect(first?.results).toEqual([{ name: 'w', says: '0.5 m/s' }]);
    expect(second?.problems[0]?.message).toContain('trials/gone.csv');
    expect(second?.results).toEqual([]);
    expect(third?.setAside).toBe('the cart was pushed');
  });

  it('are drawn whole, with what does not count hatched', async () => {
    const text = lab(`  - { file: trials/a.csv, ${reads}, counts: { from: 0.5 s, to: 1.5 s } }`);
    const source = sourceOf(text, { 'trials/a.csv': untidy });
    const seen = await trialReadingsTask.run(createRoom(), { source, index: 0 }, report);
    if (!seen.ok) throw new Error(seen.problems[0]?.message);
    const [own] = seen.value;
    expect(own?.along).toEqual({ kind: 'time', unit: 's', first: 0, last: 1.9 });
    const marks = own?.figure.panels[0]?.marks ?? [];
    expect(marks.map((mark) => (mark.kind === 'region' ? [mark.from, mark.to] : mark.kind))).toEqual([
      [0, 0.5],
      [1.5, 1.9],
      'points',
    ]);
  });
});

describe('a stretch that was dragged over', () => {
  const time = { kind: 'time', unit: 'ms', first: 0, last: 2000 } as const;

  it('is written with its unit, no finer than a hand drags', () => {
    expect(writeStretch(time, 312.34567, 1712.9)).toEqual({ from: '312 ms', to: '1713 ms' });
    expect(writeStretch({ ...time, unit: 's', last: 2 }, 0.31234, 0.5)).toEqual({
      from: '0.3123 s',
      to: '0.5000 s',
    });
  });

  it('leaves out an end that lies beyond the readings, and says nothing where all of them count', () => {
    expect(writeStretch(time, -20, 1500)).toEqual({ to: '1500 ms' });
    expect(writeStretch(time, -20, 2500)).toBeNull();
  });

  it('counts readings where there are no times, those inside and one at least', () => {
    const along = { kind: 'number', first: 1, last: 40 } as const;
    expect(writeStretch(along, 3.2, 17.8)).toEqual({ from: 4, to: 17 });
    expect(writeStretch(along, 3.2, 3.6)).toEqual({ from: 4, to: 4 });
  });

  it('takes a bare whole number that is typed for the number of a reading', () => {
    expect(writeEnd(' 31 ')).toBe(31);
    expect(writeEnd('0.31 s')).toBe('0.31 s');
  });
});
