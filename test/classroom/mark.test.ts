import { readFileSync } from 'node:fs';
import { beforeAll, describe, expect, it } from 'vitest';
import {
  calibrateMarker,
  classListCsv,
  classListPage,
  csvCell,
  explainCause,
  generalSlips,
  listStations,
  logStudentDensity,
  type MarkedLine,
  type MarkedReport,
  type Marker,
  markReport,
  nameCause,
  prepareMarker,
  readClassList,
  readingsOfTable,
  readReportedNumber,
  runsIn,
  sayBand,
} from '../../src/classroom/index.ts';
import { createPipeline, type Lab, readCells, readLab } from '../../src/lab/index.ts';
import { readTrial } from '../../src/lab/trial/index.ts';
import { pipelineFrom, SLOPE_LAB, sentencesOf, valueFrom } from '../lab/slope-lab.ts';

const place = { step: 'test' };

function shippedLab(name: string): Lab {
  return valueFrom(readLab(readFileSync(`labs/${name}/lab.yaml`, 'utf8'), 'lab.yaml'));
}

const swing = shippedLab('long-swing');
const tow = shippedLab('tow-chain');
let ofSwing: Marker;
let ofTow: Marker;

beforeAll(() => {
  ofSwing = valueFrom(prepareMarker(createPipeline(swing), [], { rehearsals: 40 }));
  ofTow = valueFrom(prepareMarker(createPipeline(tow), [], { rehearsals: 24 }));
}, 60_000);

function mark(marker: Marker, reported: Readonly<Record<string, string>>): MarkedReport {
  const { results } = marker.bench.pipeline.lab;
  const numbers = Object.entries(reported).map(([name, written]) => {
    const result = results.find((candidate) => candidate.name === name);
    if (result === undefined) throw new Error(name);
    return valueFrom(readReportedNumber(result, written, null, place));
  });
  return valueFrom(markReport(marker, numbers));
}

const first = (marked: MarkedReport) => nameCause(marked.causes[0]?.cause ?? { kind: 'unknown' });

describe('reported numbers', () => {
  it('within the band are correct, and the sentence gives the band', () => {
    const marked = mark(ofSwing, { ratio: ofSwing.correct.centre[0].toFixed(3) });
    expect(first(marked)).toBe('correct');
    expect(marked.bands[0]?.isWithin).toBe(true);
    expect(explainCause(marked.causes[0] ?? fail(), marked)).toMatch(
      /^Your ratio is as expected: 95 % of groups/,
    );
  });

  it('of half a period are told as that: half of what is right', () => {
    const marked = mark(ofSwing, { ratio: (ofSwing.correct.centre[0] / 2).toFixed(3) });
    expect(first(marked)).toBe('half-period for period');
    expect(marked.causes[0]?.share).toBeGreaterThan(0.9);
    expect(marked.bands[0]?.isWithin).toBe(false);
  });

  it("of the cord's length alone are told as the lab's own slip: the ratio grows by √(0.500/0.470)", () => {
    const right = ofSwing.correct.centre[0];
    const marked = mark(ofSwing, { ratio: (right * Math.sqrt(0.5 / 0.47)).toFixed(4) });
    expect(first(marked)).toBe('length to the top of the ball');
    expect(explainCause(marked.causes[0] ?? fail(), marked)).toContain(
      'what comes out when the cord is measured, not the way to the centre of the ball',
    );
  });

  it('of two slips at once are told as a pair', () => {
    const right = ofSwing.correct.centre[0];
    const marked = mark(ofSwing, { ratio: (0.5 * right * Math.sqrt(0.5 / 0.53)).toFixed(4) });
    expect(first(marked)).toBe('length to the bottom of the ball and half-period for period');
  });

  it('that nothing gives are told as nothing known', () => {
    const marked = mark(ofSwing, { ratio: '1.9' });
    expect(first(marked)).toBe('nothing known');
    expect(explainCause(marked.causes[0] ?? fail(), marked)).toContain('Go through the readings together');
  });

  it('of an effect twice as large are told as that effect', () => {
    const { bench } = ofTow;
    const { pipeline } = bench;
    const effect = tow.effects.find(({ name }) => name === 'rolling resistance');
    const runs = valueFrom(
      bench.takeRuns(pipeline.nominal, null, undefined, (values) =>
        (effect?.off ?? []).map(({ quantity, value }) => ({
          quantity,
          value: value + 2.5 * (values[quantity.index] - value),
        })),
      ),
    );
    const { values } = valueFrom(bench.reduce(runs));
    const numbers = tow.results.map((result, index) => ({
      result,
      value: values[index],
      standardUncertainty: 0,
    }));
    const [cause] = valueFrom(markReport(ofTow, numbers)).causes;
    expect(cause?.cause).toMatchObject({ kind: 'effect', effect: 'rolling resistance' });
    expect(cause?.cause.kind === 'effect' ? cause.cause.times : 0).toBeGreaterThan(1.9);
    expect(cause?.cause.kind === 'effect' ? cause.cause.times : 9).toBeLessThan(3.2);
  });

  it('have shares that add up to one', () => {
    const { causes } = mark(ofTow, { k2: '2.75', b: '0.026' });
    expect(causes.reduce((sum, { share }) => sum + share, 0)).toBeCloseTo(1, 12);
    expect(nameCause(causes[0]?.cause ?? { kind: 'unknown' })).toBe('diameter for radius');
  });

  it('are rounded as far as their digits say, and a stated uncertainty adds to that', () => {
    const [k2] = tow.results;
    if (k2 === undefined) throw new Error('no result');
    const number = valueFrom(readReportedNumber(k2, '1.13', null, place));
    expect(number.standardUncertainty).toBeCloseTo(0.01 / Math.sqrt(12), 12);
    const other = valueFrom(readReportedNumber(k2, '1,13 1/s^2', '0.03', place));
    expect(other.value).toBeCloseTo(1.13, 12);
    expect(other.standardUncertainty).toBeCloseTo(Math.hypot(0.03, 0.01 / Math.sqrt(12)), 12);
  });

  it('that are none, or in a wrong unit, are refused in a sentence', () => {
    const [k2] = tow.results;
    if (k2 === undefined) throw new Error('no result');
    expect(sentencesOf(readReportedNumber(k2, 'fast', null, place))).toEqual([
      'test  "fast" is not a number; the reported k2 must be one. In 1/s^2, or with its own unit.',
    ]);
    expect(sentencesOf(readReportedNumber(k2, '2.2 m', null, place))).toEqual([
      'test  "2.2 m" is in m; k2 is given in 1/s². Write it in that unit, or without one.',
    ]);
    expect(sentencesOf(readReportedNumber(k2, '2.2', '0', place))).toEqual([
      'test  The uncertainty of k2 is 0; an uncertainty is above 0.',
    ]);
  });
});

function fail(): never {
  throw new Error('there is no cause');
}

describe('with the readings at hand', () => {
  it('a slip of the reckoning is found in them, to the digit that was reported', async () => {
    const bytes = readFileSync('labs/tow-chain/trials/chain-120-c.csv');
    const table = valueFrom(await readTrial(bytes, { file: 'chain-120-c.csv' }));
    const data = runsIn(table).map((run) => ({
      group: 0,
      readings: valueFrom(readingsOfTable(tow, table, run)),
    }));
    const { bench } = ofTow;
    const slip = ofTow.slips.find(({ slip: { name } }) => name === 'one too many marks of the wheel counted');
    const { reduction } = slip?.slip ?? {};
    if (reduction === null || reduction === undefined) throw new Error('no such slip');
    const proper = valueFrom(bench.reduce(data));
    const { withReduction } = await import('../../src/lab/index.ts');
    const wrong = valueFrom(bench.reduce(data, bench.told, withReduction(bench.pipeline, reduction)));
    const [k2] = tow.results;
    if (k2 === undefined) throw new Error('no result');
    const report = (value: number) =>
      valueFrom(markReport(ofTow, [{ result: k2, value, standardUncertainty: 0.002 }], data));
    expect(first(report(wrong.values[0]))).toBe('one too many marks of the wheel counted');
    const right = report(proper.values[0]);
    expect(first(right)).toBe('correct');
    expect(right.fromData?.[0]).toBeCloseTo(proper.values[0], 12);
  });

  it('a file of another experiment is refused', async () => {
    const bytes = readFileSync('labs/falling-chain/trials/drop-3.txt');
    const table = valueFrom(await readTrial(bytes, { file: 'drop-3.txt' }));
    expect(sentencesOf(readingsOfTable(tow, table, 1))).toEqual([
      'drop-3.txt  The file has no column that "wheel gate" could have read: it needs "edge", time (s); the file has "Zeit (s)", "Kraft (mN)". Is it the file of another experiment?',
    ]);
  });
});

describe('planted slips', () => {
  it('are ranked first nearly always, by groups that the marker has not seen', () => {
    const planted = valueFrom(calibrateMarker(ofSwing, { reports: 8 }));
    const total = planted.reduce((sum, { planted: count }) => sum + count, 0);
    const right = planted.reduce((sum, { first: count }) => sum + count, 0);
    expect(planted.length).toBeGreaterThan(6);
    expect(right / total).toBeGreaterThan(0.9);
  });
});

it('slips that move no result by more than its scatter are not among the causes', () => {
  const names = ofTow.slips.map(({ slip }) => slip.name);
  expect(names).toContain('first mark missed');
  // The length only ends the window; the general slip of the first edge is the lab's own by another name.
  expect(names).not.toContain('half for whole (L)');
  expect(names).not.toContain('first edge missed (wheel gate)');
});

it('the density of Student’s t in one dimension is that of the table: f(0; ν = 4) = 3/8, f(1; ν = 4) = 0.2147', () => {
  const density = (t: number) =>
    Math.exp(logStudentDensity(Float64Array.of(t), Float64Array.of(0), Float64Array.of(1), 4));
  expect(density(0)).toBeCloseTo(0.375, 9);
  // 3/8·(1 + 1/4)^(−5/2)
  expect(density(1)).toBeCloseTo(0.375 * 1.25 ** -2.5, 9);
});

describe('a class list', () => {
  const LIST = `group;station;k2 (1/s^2);u(k2);b
alpha;B;2,23;;-0,05
"=HYPERLINK(""http://x"";""y"")";B;2,75;;0,026
gamma;Z;2,2;;
delta;A;abc;;
;C;2,08;0,02;
+cmd|' /C calc'!A0;A;2.2 m;;
`;

  function readList(text: string) {
    const cells = valueFrom(readCells(new TextEncoder().encode(text), 'class.csv'));
    return readClassList(tow, listStations(tow), cells, 'class.csv');
  }

  function markedList(): readonly MarkedLine[] {
    return valueFrom(readList(LIST)).map((report) => ({
      report,
      marked: report.numbers.length === 0 ? null : valueFrom(markReport(ofTow, report.numbers)),
    }));
  }

  it('is read line by line; what is wrong in one keeps no other from being read', () => {
    const reports = valueFrom(readList(LIST));
    expect(reports.map(({ numbers }) => numbers.length)).toEqual([2, 2, 0, 0, 1, 0]);
    expect(reports.flatMap(({ problems }) => problems.map(({ message }) => message))).toEqual([
      '"Z" is not a station of this lab.',
      '"abc" is not a number; the reported k2 must be one.',
      '"2.2 m" is in m; k2 is given in 1/s².',
    ]);
    expect(reports[0]?.numbers[0]?.value).toBeCloseTo(2.23, 12);
    expect(reports[4]?.numbers[0]?.standardUncertainty).toBeCloseTo(
      Math.hypot(0.02, 0.01 / Math.sqrt(12)),
      9,
    );
  });

  it('without a result among its headings is told what would be right', () => {
    expect(sentencesOf(readList('group,speed\na,3\n'))).toEqual([
      'class.csv:1  No column of the list is headed by a result of this lab; "k2" or "b" would be. The headings are group, speed.',
    ]);
    expect(sentencesOf(readList('group,k2 (m)\na,3\n'))).toEqual([
      'class.csv:1  The column "k2 (m)" is in "m", in which k2 cannot be given. Its unit is 1/s^2.',
    ]);
  });

  it('comes out with every formula as text and every number as a number', () => {
    const csv = classListCsv(tow, markedList());
    const cells = csv.split(/\r\n/).flatMap((line) => line.split(',').map((cell) => cell.replace(/^"/, '')));
    for (const cell of cells) if (!/^-?\d/.test(cell)) expect(cell).not.toMatch(/^[=+@-]/);
    expect(csv).toContain("'=HYPERLINK");
    expect(csv).toContain("'+cmd|");
    expect(csv).toContain('diameter for radius');
    expect(csv.split('\r\n')).toHaveLength(8);
  });

  it.each([
    ['=1+1', "'=1+1"],
    ['@SUM(A1)', "'@SUM(A1)"],
    ['\t=1', "' =1"],
    ['-1+2', "'-1+2"],
    ['−2', '−2'],
    ['-0.05', '-0.05'],
    ['+3,5', '"+3,5"'],
    ['＝1', "'＝1"],
    ['plain', 'plain'],
    ['a "b", c', '"a ""b"", c"'],
  ])('the cell %j is written as %j', (text, cell) => {
    expect(csvCell(text)).toBe(cell);
  });

  it('comes out as a page in which nothing of a name is markup or script', () => {
    const [line] = markedList();
    if (line === undefined) throw new Error('no line');
    const evil = '<img src=x onerror=alert(1)>"&';
    const page = classListPage(tow, [{ ...line, report: { ...line.report, group: evil } }]);
    expect(page).not.toContain('<img');
    expect(page).toContain('&lt;img src=x onerror=alert(1)&gt;&quot;&amp;');
    expect(page).toContain("default-src 'none'");
    expect(page).not.toMatch(/<script/i);
  });
});

it('a lab without slips is marked all the same, by the general set', () => {
  const marker = valueFrom(prepareMarker(pipelineFrom(SLOPE_LAB), [], { rehearsals: 12 }));
  const [result] = marker.bench.pipeline.lab.results;
  if (result === undefined) throw new Error('no result');
  // Times in milliseconds taken for seconds: the acceleration is a millionth.
  const number = { result, value: marker.correct.centre[0] * 1e-6, standardUncertainty: 1e-9 };
  expect(first(valueFrom(markReport(marker, [number])))).toBe('milliseconds for seconds (ranger)');
});

describe('in German', () => {
  it('every general slip of every lab is told, and none in English words', () => {
    for (const lab of [swing, tow, shippedLab('draped-chain'), shippedLab('falling-chain')]) {
      const [english, german] = [generalSlips(lab), generalSlips(lab, 'de')];
      expect(german).toHaveLength(english.length);
      for (const { name, is, helps } of german)
        expect(`${name} ${is} ${helps}`).not.toMatch(
          /\b(the|is entered|taken for|counted|where)\b(?![^(]*\))/,
        );
    }
  });

  it('the sentence that helps, the band and the list are German, with a decimal comma', () => {
    const marker = valueFrom(prepareMarker(createPipeline(tow), [], { rehearsals: 16, language: 'de' }));
    const slip = marker.slips.find(({ slip: { name } }) => name === 'Steigung auf dem Kopf (k2)');
    expect(slip?.slip.is).toBe('k2 wird als waagrechte durch senkrechte Strecke abgelesen');
    const marked = mark(marker, { k2: (1 / marker.correct.centre[0]).toFixed(4) });
    const [cause] = marked.causes;
    if (cause === undefined) throw new Error('no cause');
    expect(explainCause(cause, marked, 'de')).toMatch(
      /^k2 ist das, was bei diesem Versehen herauskommt: k2 wird als .*\. Die Steigung ist die Änderung nach oben/,
    );
    const [band] = marked.bands;
    const [k2] = tow.results;
    if (band === undefined || k2 === undefined) throw new Error('no band');
    expect(sayBand(k2, band, 'de')).toMatch(/^k2 liegt außerhalb von dem, .* \d,\d+ … \d,\d+ 1\/s²$/);
    const report = {
      line: 2,
      group: 'A',
      station: '',
      set: [],
      numbers: marked.numbers,
      written: new Map(),
      problems: [],
    };
    const page = classListPage(tow, [{ report, marked }], 'de');
    expect(page).toContain('<html lang="de">');
    expect(page).toContain('wonach es aussieht');
    expect(classListCsv(tow, [{ report, marked }], 'de')).toContain('Gruppe,Station');
  });
});
