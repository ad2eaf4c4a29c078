import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import {
  listStations,
  markReport,
  poolResults,
  prepareMarker,
  rehearseClass,
} from '../../src/classroom/index.ts';
import { change, labFrom, pipelineFrom, SLOPE_LAB, valueFrom } from '../lab/slope-lab.ts';

const STATIONS = `${SLOPE_LAB}stations:
  drawn: { values: { alpha: { from: 3 degree, to: 9 degree, step: 0.5 degree }, m: [250 g, 500 g] }, groups: 10, seed: 4 }
  pooled:
    across stations:
      - line: { of: a, against: sin(alpha), slope: g_class }
    results: { g_class: { is: gravity by the whole class, unit: m/s^2, theory: g } }
`;
// One run a group keeps the test short.
const pipeline = pipelineFrom(change(STATIONS, ['repeats: 3', 'repeats: 1']));
const DEGREE = Math.PI / 180;

describe('drawn stations', () => {
  it('lie on the steps of their range, fill it evenly, and are the same for the same seed', () => {
    const stations = listStations(pipeline.lab);
    expect(stations).toHaveLength(10);
    expect(listStations(pipeline.lab)).toEqual(stations);
    expect(listStations(pipeline.lab, { seed: 5 })).not.toEqual(stations);
    const slopes = stations.map(({ set }) => (set[0]?.value ?? Number.NaN) / DEGREE);
    for (const slope of slopes) expect(slope * 2).toBeCloseTo(Math.round(slope * 2), 9);
    // Ten of a sequence that fills the range: in each third at least two.
    for (const from of [3, 5, 7])
      expect(slopes.filter((slope) => slope >= from && slope <= from + 2).length).toBeGreaterThan(1);
    const masses = stations.map(({ set }) => set[1]?.value);
    expect(new Set(masses)).toEqual(new Set([0.25, 0.5]));
  });

  it('do not change for those who were there when more groups come', () => {
    const few = listStations(pipeline.lab, { groups: 5 });
    expect(listStations(pipeline.lab, { groups: 16 }).slice(0, 5)).toEqual(few);
  });
});

it('listed stations are given out again where there are more groups than stations', () => {
  const lab = labFrom(`${SLOPE_LAB}stations: { A: { alpha: 4 degree }, B: { alpha: 8 degree } }\n`);
  expect(listStations(lab, { groups: 5 }).map(({ name }) => name)).toEqual(['A', 'B', 'A 2', 'B 2', 'A 3']);
});

describe('what stations find together', () => {
  it('is the line through their results: of exact ones g, exactly', () => {
    const { lab } = pipeline;
    if (lab.stations.pooled === null) throw new Error('nothing is pooled');
    const stations = listStations(lab).map(({ set }) => ({
      set,
      values: Float64Array.of(9.7 * Math.sin(set[0]?.value ?? 0)),
      uncertainties: Float64Array.of(0.01),
    }));
    const pooled = valueFrom(poolResults(pipeline, lab.stations.pooled, stations));
    expect(pooled.results[0]?.value).toBeCloseTo(9.7, 10);
  });

  it('covers the true g at the stated rate: 95 % of classes, each with a g and apparatus of its own', () => {
    const rehearsed = valueFrom(
      rehearseClass(pipeline, listStations(pipeline.lab), { rehearsals: 400, subset: 0, seed: 3 }),
    );
    const [pooled] = rehearsed.pooled;
    // The binomial spread of 400 trials at 0.95 is 0.011.
    expect(pooled?.coverage).toBeGreaterThan(0.95 - 3 * 0.011);
    expect(pooled?.coverage).toBeLessThan(0.95 + 3 * 0.011);
    expect(Math.abs((pooled?.mean ?? 0) - 9.81)).toBeLessThan((4 * (pooled?.spread ?? 0)) / Math.sqrt(400));
    // What a class states of itself is what classes scatter by.
    expect((pooled?.stated ?? 0) / (pooled?.spread ?? 1)).toBeCloseTo(1, 0);
  });

  it('is known better the more groups there are, as 1/√n', () => {
    const { lab } = pipeline;
    const rehearsed = valueFrom(
      rehearseClass(pipeline, listStations(lab, { groups: 32 }), {
        rehearsals: 60,
        groups: [8, 32],
        subset: 0,
      }),
    );
    const [few, many] = rehearsed.pooled;
    expect((few?.spread ?? 0) / (many?.spread ?? 1)).toBeGreaterThan(1.4);
    expect((few?.spread ?? 0) / (many?.spread ?? 1)).toBeLessThan(2.9);
  });

  it('without stations there is nothing to rehearse, and that is said', () => {
    const found = rehearseClass(pipelineFrom(SLOPE_LAB), []);
    expect(found.ok ? [] : found.problems.map(({ message }) => message)).toEqual([
      'The lab has no stations.',
    ]);
  });
});

it('three groups of the draped chain cover the true g at the stated rate, all effects on and each class with a g of its own', () => {
  const text = readFileSync('labs/draped-chain/lab.yaml', 'utf8');
  const draped = pipelineFrom(text);
  const rehearsed = valueFrom(rehearseClass(draped, listStations(draped.lab), { rehearsals: 100, seed: 11 }));
  const [pooled] = rehearsed.pooled;
  // What the effects leave, 2 % of g, is within what three groups can tell; the binomial spread of 100 is 0.022.
  expect(pooled?.coverage).toBeGreaterThan(0.95 - 3 * 0.022);
  expect(pooled?.spread).toBeGreaterThan(0.2);
  // With 1/L alone, as the lab file says, a fifth would be missing.
  const plain = pipelineFrom(change(text, ['against: 1/(L + theta_w*R + I/(lambda*R^2))', 'against: 1/L']));
  const naive = valueFrom(rehearseClass(plain, listStations(plain.lab), { rehearsals: 20, seed: 11 }));
  expect((naive.pooled[0]?.mean ?? 0) / 9.81).toBeCloseTo(0.8, 1);
  expect(naive.pooled[0]?.coverage).toBeLessThan(0.8);
});

it('each station has its own expected result and band', () => {
  const { lab } = pipeline;
  const rehearsed = valueFrom(rehearseClass(pipeline, listStations(lab, { groups: 4 }), { rehearsals: 60 }));
  for (const { station, results } of rehearsed.stations) {
    const alpha = station.set[0]?.value ?? 0;
    const m = station.set[1]?.value ?? 1;
    const [a] = results;
    // Rolling resistance takes F_r/m; air a little more.
    expect(a?.mean).toBeLessThan(9.81 * Math.sin(alpha));
    expect(Math.abs((a?.mean ?? 0) - (9.81 * Math.sin(alpha) - 0.01 / m))).toBeLessThan(0.02);
    expect(a?.low).toBeLessThan(a?.mean ?? 0);
    expect(a?.high).toBeGreaterThan(a?.mean ?? 0);
  }
});

describe('a station that fixes what the plan varies', () => {
  const PLANNED = change(
    SLOPE_LAB,
    [
      'results:\n',
      '  across runs:\n    - line: { of: a, against: sin(alpha), slope: g_line }\nresults:\n  g_line: { unit: m/s^2, theory: g }\n',
    ],
    ['plan: { repeats: 3 }', 'plan: { settings: { alpha: [3 degree, 6 degree, 9 degree] }, repeats: 2 }'],
  );
  const own = pipelineFrom(
    `${PLANNED}stations: { A: { alpha: 3 degree }, B: { alpha: 6 degree }, C: { alpha: 9 degree } }\n`,
  );
  const rehearsed = valueFrom(rehearseClass(own, listStations(own.lab), { rehearsals: 60, subset: 0 }));

  it('finds what its own runs give, and nothing of a line that one slope cannot give', () => {
    for (const { station, results } of rehearsed.stations) {
      const [line, a] = results;
      expect(line?.mean).toBeNaN();
      const expected = 9.81 * Math.sin(station.set[0]?.value ?? 0);
      expect(Math.abs((a?.mean ?? 0) - expected)).toBeLessThan((4 * (a?.spread ?? 0)) / Math.sqrt(60));
    }
  });

  it('gives its runs to the class, whose line through all of them has g as its slope', () => {
    const [line] = rehearsed.pooled;
    expect(rehearsed.pooled).toHaveLength(1);
    expect([line?.result.name, line?.groups, line?.rehearsals]).toEqual(['g_line', 3, 60]);
    expect(Math.abs((line?.mean ?? 0) - 9.81)).toBeLessThan((4 * (line?.spread ?? 0)) / Math.sqrt(60));
    expect(line?.theory).toBeCloseTo(9.81, 12);
  });

  it("has its own number marked, and says of a line that it is not one station's to find", () => {
    const [, station] = listStations(own.lab);
    const marker = valueFrom(prepareMarker(own, station?.set ?? [], { rehearsals: 30 }));
    const [line, a] = own.lab.results;
    if (line === undefined || a === undefined) throw new Error('the lab has lost its results');
    const report = (result: typeof a, value: number) =>
      markReport(marker, [{ result, value, standardUncertainty: 0 }]);
    const good = marker.correct.centre[1] ?? Number.NaN;
    expect(valueFrom(report(a, good)).causes[0]?.cause.kind).toBe('correct');
    const beyond = report(line, 9.8);
    expect(beyond.ok ? [] : beyond.problems.map(({ message }) => message)).toEqual([
      'g_line takes runs under several settings, and this station has only its own.',
    ]);
  });

  it('takes its part of the plan where it fixes another quantity: each finds the line by itself', () => {
    const whole = pipelineFrom(`${PLANNED}stations: { A: { m: 250 g }, B: { m: 500 g } }\n`);
    const { stations, pooled } = valueFrom(
      rehearseClass(whole, listStations(whole.lab), { rehearsals: 20, subset: 0 }),
    );
    for (const { results } of stations) expect(results[0]?.mean).toBeCloseTo(9.81, 0);
    expect(pooled).toEqual([]);
  });
});
