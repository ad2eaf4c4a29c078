import * as fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { createBatchSimulator, type Pipeline, type QuantityValues } from '../../src/lab/index.ts';
import { createManyRuns, groupRuns, settingsOff, valuesOfGroup } from '../../src/run/index.ts';
import { change, pipelineFrom, SLOPE_LAB } from '../lab/slope-lab.ts';
import { must, openShipped } from '../labs/shipped-lab.ts';

const INSTRUMENTS_OF_SLOPE = 'ranger: { kind: sampled, of: x, rate: 50 Hz, resolution: 1 mm }';
const STEPS_OF_SLOPE = `    - readings: { of: ranger, gives: [t, s] }
    - line: { of: 2*s, against: t^2, slope: a }`;

/** The slope lab with other steps, all of which give "a". */
function slopeWith(steps: string, instrument = INSTRUMENTS_OF_SLOPE): Pipeline {
  return pipelineFrom(
    change(
      SLOPE_LAB,
      [STEPS_OF_SLOPE, steps],
      [INSTRUMENTS_OF_SLOPE, instrument],
      [', theory: g*sin(alpha)', ''],
      ['  w:     ', '  r_w: { value: 2 cm }\n  s_0: { value: 5 mm }\n  w:     '],
    ),
  );
}

/** Every step that has a form where the engine has the readings, in labs that are not among the shipped ones. */
const STEPS: readonly (readonly [string, Pipeline])[] = [
  ['readings and a line', pipelineFrom(SLOPE_LAB)],
  [
    'speeds by three points, a window from one event to another, an intercept',
    slopeWith(`    - motion from samples: { of: ranger, gives: [t, s, u] }
    - keep: { from: s > 0.1 m, to: s > 0.6 m }
    - line: { of: u, against: t, slope: a, intercept: b }`),
  ],
  [
    'a zero, a column of it, a mean in a window, a value',
    slopeWith(
      `    - readings: { of: ranger, gives: [t, s] }
    - column: { of: 3*s, gives: early }
    - keep: { while: early < 2.4 m }
    - zero: { column: s, while: t < 0.1 s }
    - column: { of: 2*s/t^2, gives: each }
    - mean: { of: each, while: t > 0.5 s, gives: c_1 }
    - mean: { of: 0*early/t^2, while: t > 0.5 s, gives: c_2 }
    - value: { of: c_1 + c_2, gives: a }`,
      'ranger: { kind: sampled, of: x, interval: 25 ms, starts: 10 ms, zero: 2 cm, range: { from: -1 m, to: 0.7 m } }',
    ),
  ],
  [
    'the largest reading of a window',
    slopeWith(`    - motion from samples: { of: ranger, gives: [t, s, u] }
    - keep: { while: t > 0.2 s and not (t > 1.1 s) }
    - peak: { of: u/t, gives: a }`),
  ],
  [
    'speeds at light gates, by a flag',
    slopeWith(
      `    - motion from gates: { of: gates, gives: [t, s, u] }
    - line: { of: u, against: t, slope: a }`,
      'gates: { kind: gates, of: x, at: [0.1 m, 0.3 m, 0.5 m, 0.7 m, 50 m], flag: 2*r_w, clock: 10 us }',
    ),
  ],
  [
    'speeds at light gates without a flag, by the gates beside',
    slopeWith(
      `    - motion from gates: { of: gates, gives: [t, s, u] }
    - line: { of: u, against: t, slope: a }`,
      'gates: { kind: gates, of: x, at: [0.1 m, 0.2 m, 0.3 m, 0.5 m, 0.7 m, 50 m], flag: 0 m }',
    ),
  ],
  [
    'places and times of light gates',
    slopeWith(
      `    - readings: { of: gates, gives: [t, s] }
    - line: { of: 2*s, against: t^2, slope: a }`,
      'gates: { kind: gates, of: x, at: [0.1 m, 0.3 m, 0.5 m, 0.7 m], flag: r_w }',
    ),
  ],
  [
    'pictures of a camera whose shutter is open for a while',
    slopeWith(
      `    - readings: { of: camera, gives: [t, s] }
    - keep: { while: s > 0.1 m }
    - line: { of: 2*s, against: t^2, slope: a }`,
      'camera: { kind: frames, of: x, rate: 30 Hz, exposure: 12 ms, pixel: 1 mm }',
    ),
  ],
  [
    'edges of a wheel with a phase, angles and their rates',
    slopeWith(
      `    - motion from edges: { of: gate, gives: [t, angle, rate] }
    - line: { of: rate*r_w, against: t, slope: a }`,
      'gate: { kind: edges, of: x/r_w, edges per turn: 8, phase: 3*alpha, clock: 10 us }',
    ),
  ],
];

/** Draws of the base quantities within two standard uncertainties. */
function drawBase({ lab, nominal }: Pipeline, seeds: readonly number[]): Float64Array {
  return nominal.map((value, index) => {
    const u = lab.quantities.base[index]?.estimate.standardUncertainty ?? 0;
    return value + 2 * u * (seeds[index % seeds.length] ?? 0);
  });
}

/** Moves what differs from run to run away from what the runs have in common. */
function withOwnValues({ lab }: Pipeline, base: Float64Array, share: number): Float64Array {
  return base.map(
    (value, index) => value + share * (lab.quantities.base[index]?.eachRun?.standardUncertainty ?? 0),
  );
}

/**
 * The scalars of runs by both ways from the engine's own readings; null where the engine has no say.
 *
 * @param values what the runs have
 * @param known  what their reduction takes them for
 */
function bothWays(
  pipeline: Pipeline,
  values: readonly QuantityValues[],
  known: readonly QuantityValues[] = values,
) {
  const { lab } = pipeline;
  const usual = must(pipeline.simulate(pipeline.values(pipeline.nominal)));
  const names = [...lab.eachRun.scalars.keys()];
  const reducing = createBatchSimulator(lab, usual.readings, { scalars: names });
  const plain = createBatchSimulator(lab, usual.readings, { scalars: null });
  if (reducing === null || plain === null || !reducing.reduces) return null;
  const rows = new Float64Array(values.length * reducing.rowLength);
  for (const [i, one] of values.entries()) {
    rows.set(one, i * reducing.rowLength);
    const apart = reducing.asReduced.map((index) => known[i]?.[index] ?? Number.NaN);
    rows.set(apart, (i + 1) * reducing.rowLength - apart.length);
  }
  const scalars = new Float64Array(values.length * names.length);
  const left: number[] = [];
  reducing.run(rows, values.length, scalars, (index) => left.push(index));
  const inGeneral: (Float64Array | null)[] = values.map(() => null);
  plain.run(rows, values.length, new Float64Array(0), (index, readings) => {
    const reduced = readings === null ? null : pipeline.reduce(readings, known[index] ?? values[index]);
    inGeneral[index] = reduced?.ok
      ? Float64Array.from(names, (name) => reduced.value.scalars.get(name)?.value ?? Number.NaN)
      : null;
  });
  const here = values.map((_, i) => scalars.subarray(i * names.length, (i + 1) * names.length));
  return { here, inGeneral, left };
}

/** Agreement to rounding, in units of the largest number that both ways were made from. */
function expectAlike(here: Float64Array, there: Float64Array): void {
  for (const [i, value] of there.entries()) {
    expect(Math.abs(here[i] - value)).toBeLessThanOrEqual(1e-11 * Math.max(Math.abs(value), 1e-3));
  }
}

describe('what the engine makes of the readings where it has them is what the steps make of them', () => {
  it.each(STEPS)('%s', (_, pipeline) => {
    fc.assert(
      fc.property(
        fc.array(fc.double({ min: -1, max: 1, noNaN: true }), { minLength: 5, maxLength: 9 }),
        (seeds) => {
          const subsets = Array.from({ length: 2 ** pipeline.lab.effects.length }, (__, subset) =>
            pipeline.values(drawBase(pipeline, seeds), settingsOff(pipeline.lab, subset)),
          );
          const found = bothWays(pipeline, subsets);
          expect(found?.left).toEqual([]);
          for (const [i, there] of (found?.inGeneral ?? []).entries()) {
            expect(there).not.toBeNull();
            if (there !== null) expectAlike(found?.here[i] ?? new Float64Array(0), there);
          }
        },
      ),
      { numRuns: 15, seed: 4 },
    );
  });

  it.each(['draped-chain', 'tow-chain'] as const)(
    'in the shipped %s: every subset of effects at many draws; what is left to the general way is what sticks',
    async (name) => {
      const { pipeline, trials } = await openShipped(name);
      const groups = groupRuns(pipeline.lab, trials);
      const points = Array.from({ length: 12 }, (_, draw) =>
        drawBase(
          pipeline,
          [0, 1, 2, 3, 4, 5, 6].map((k) => Math.sin(7 * draw + 3 * k + 1)),
        ),
      );
      const valuesAt = (share: number) =>
        points.flatMap((base) =>
          groups.flatMap((group) =>
            Array.from({ length: 2 ** pipeline.lab.effects.length }, (_, subset) =>
              valuesOfGroup(pipeline, withOwnValues(pipeline, base, share), group, subset),
            ),
          ),
        );
      const values = valuesAt(0.7);
      const found = bothWays(pipeline, values, valuesAt(0));
      if (found === null) throw new Error('the lab is not for the engine');
      let alike = 0;
      for (const [i, there] of found.inGeneral.entries()) {
        if (found.left.includes(i)) continue;
        if (there === null) throw new Error('only one of the two ways reduced the run');
        expectAlike(found.here[i], there);
        alike += 1;
      }
      expect(alike).toBeGreaterThan(0.95 * values.length);
    },
  );
});

describe('real readings', () => {
  it.each(['draped-chain', 'tow-chain', 'falling-chain'] as const)(
    'of the shipped %s are reduced to the same numbers as one by one, lost edges and all',
    async (name) => {
      const { pipeline, trials } = await openShipped(name);
      const groups = groupRuns(pipeline.lab, trials);
      const names = pipeline.lab.results.map((result) => result.name);
      const runs = createManyRuns(pipeline, groups, names);
      const count = 5;
      const base = Float64Array.from(
        Array.from({ length: count }, (_, draw) => [
          ...drawBase(pipeline, [Math.sin(draw), Math.cos(3 * draw)]),
        ]).flat(),
      );
      const all = groups.flatMap((group) => group.trials.map((trial) => ({ trial, group })));
      const found = new Float64Array(count * all.length * names.length);
      const sound = new Uint8Array(count);
      runs.reduceTrials(pipeline, base, count, found, sound);
      expect([...sound]).toEqual([1, 1, 1, 1, 1]);
      for (let draw = 0; draw < count; draw++) {
        const own = base.subarray(draw * pipeline.nominal.length, (draw + 1) * pipeline.nominal.length);
        for (const [place, { trial, group }] of all.entries()) {
          const values = valuesOfGroup(pipeline, own, group, 2 ** pipeline.lab.effects.length - 1);
          const { scalars } = must(pipeline.reduce(trial.readings, values));
          const at = (draw * all.length + place) * names.length;
          const there = Float64Array.from(names, (each) => scalars.get(each)?.value ?? Number.NaN);
          expectAlike(found.subarray(at, at + names.length), there);
        }
      }
    },
  );
});

describe('runs that the engine cannot follow to the end', () => {
  const soundOf = (pipeline: Pipeline, set: Readonly<Record<string, number>>) => {
    const groups = groupRuns(pipeline.lab, []);
    const base = Float64Array.from(pipeline.nominal);
    for (const [name, value] of Object.entries(set))
      base[pipeline.lab.quantities.byName.get(name)?.index ?? -1] = value;
    const runs = createManyRuns(pipeline, groups, ['a']);
    const sound = new Uint8Array(2);
    const codes: string[] = [];
    runs.simulate(
      pipeline,
      {
        count: 2,
        subsets: Uint32Array.of(3, 3),
        base: Float64Array.from([...pipeline.nominal, ...base]),
        together: 1,
        variationAt: () => ({ nodes: [new Float64Array(pipeline.nominal.length)] }),
      },
      {
        scalars: new Float64Array(2),
        sound,
        note: (_, problems) => codes.push(...problems.map(({ code }) => code)),
      },
    );
    return { sound: [...sound], codes, general: runs.generalRunsPerPoint() };
  };

  it('are told in the general way’s words: friction that holds the trolley for ever', () => {
    // m g sin(alpha) is 0.26 N.
    const { sound, codes, general } = soundOf(pipelineFrom(SLOPE_LAB), { F_r: 0.5 });
    expect(sound).toEqual([1, 0]);
    expect(codes).toHaveLength(1);
    expect(general).toBe(0.5);
  });

  it('too few readings in a window', () => {
    const pipeline = slopeWith(`    - readings: { of: ranger, gives: [t, s] }
    - keep: { while: s < s_0 }
    - line: { of: 2*s, against: t^2, slope: a }`);
    expect(soundOf(pipeline, { s_0: 0 })).toMatchObject({ sound: [1, 0], codes: ['no-reading-kept'] });
  });

  it('a quantity that is not finite', () => {
    expect(soundOf(pipelineFrom(SLOPE_LAB), { m: 0 })).toMatchObject({ sound: [1, 0] });
    expect(soundOf(pipelineFrom(SLOPE_LAB), { g: Number.NaN })).toMatchObject({
      sound: [1, 0],
      codes: ['not-finite'],
    });
  });
});
