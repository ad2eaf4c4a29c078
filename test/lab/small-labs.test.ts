import { describe, expect, it } from 'vitest';
import { createPipeline, loadTrials } from '../../src/lab/index.ts';
import { fail, problem, succeed } from '../../src/problem/index.ts';
import { reconcile } from '../../src/reconcile/index.ts';
import { checkDerivation, predict, reduceTrials, rehearse } from '../../src/run/index.ts';
import { change, labFrom, pipelineFrom, sentencesOf, sentencesOn, valueFrom } from './slope-lab.ts';

/** Runs the lab with trial files that stand in memory. */
async function withTrials(text: string, files: Readonly<Record<string, string>>) {
  const lab = labFrom(text);
  const trials = await loadTrials(lab, (file) =>
    Promise.resolve(
      files[file] === undefined
        ? fail(problem('no-file', { file }, 'There is no such file.'))
        : succeed(new TextEncoder().encode(files[file])),
    ),
  );
  return { pipeline: createPipeline(lab), trials };
}

function resultsOf(text: string, subset?: number): Record<string, number> {
  const prediction = valueFrom(predict(pipelineFrom(text), subset === undefined ? {} : { subset }));
  return Object.fromEntries(prediction.results.map(({ name, predicted }) => [name, predicted.value]));
}

const LENS_LAB = `benchwright: 1
title: The image of a lens
quantities:
  f:     { is: focal length, value: 150 mm, u: 1 mm }
  delta: { is: from the middle of the holder to the middle of the lens, value: 2 mm, u: 0.5 mm }
effects:
  the lens is off its holder: { off: { delta: 0 mm } }
where:
  vergence: 1/f - 1/(u + delta)
  magnification: v/u
model:
  relation: v = 1/vergence
  over: { u: [20 cm, 25 cm, 30 cm, 40 cm, 60 cm] }
derivation:
  - { line: 1/f = 1/u + 1/v, because: thin lens }
  - { line: magnification = f/(u - f) }
instruments:
  bench: { kind: ruler, of: v, division: 1 mm, spread: 1 mm }
reduction:
  each run:
    - readings: { of: bench, gives: [u_r, v_r] }
    - line: { of: 1/v_r, against: 1/u_r, slope: slope, intercept: power }
    - value: { of: 1/power, gives: f_r }
results:
  f_r:   { unit: mm, theory: f }
  slope: { unit: "1", theory: "-1" }
`;

describe('a lab without time', () => {
  it('images an object at 40 cm at 24 cm by a lens of 15 cm (thin lens, any textbook)', () => {
    const { model } = labFrom(change(LENS_LAB, ['[20 cm, 25 cm, 30 cm, 40 cm, 60 cm]', '[0.4 m]']));
    if (model.kind !== 'relation') throw new Error('not a relation');
    const pipeline = pipelineFrom(LENS_LAB);
    const values = pipeline.values(
      pipeline.nominal,
      pipeline.lab.effects.flatMap((effect) => effect.off),
    );
    const [image] = model.relation.signals[0]?.evaluate(Float64Array.of(0.4), values) ?? [];
    expect(image).toBeCloseTo(0.24, 14);
  });

  it('gives slope −1 and the focal length in the ideal case, and a longer one where the lens is off its holder', () => {
    const ideal = resultsOf(LENS_LAB, 0);
    expect(ideal.slope).toBeCloseTo(-1, 12);
    expect(ideal.f_r).toBeCloseTo(0.15, 12);
    expect(resultsOf(LENS_LAB).f_r).toBeGreaterThan(0.1503);
  });

  it('has a derivation that holds along the relation, helpers put in', () => {
    const check = valueFrom(checkDerivation(pipelineFrom(LENS_LAB)));
    expect(check.firstFalse).toBeNull();
    const false2 = change(LENS_LAB, ['magnification = f/(u - f)', 'magnification = u/(u - f)']);
    expect(valueFrom(checkDerivation(pipelineFrom(false2))).firstFalse).toBe(1);
  });

  it('takes a sampled meter as well as a ruler', () => {
    const text = change(LENS_LAB, [
      'kind: ruler, of: v, division: 1 mm, spread: 1 mm',
      'kind: sampled, of: v, resolution: 1 mm, noise: 1 mm',
    ]);
    expect(resultsOf(text, 0).f_r).toBeCloseTo(0.15, 12);
    const [output] = valueFrom(rehearse(pipelineFrom(text), { repeats: 200 })).outputs;
    expect(output?.mean).toBeCloseTo(resultsOf(text).f_r ?? 0, 3);
    // What one run reports of itself is what the runs scatter by, within the 10 % that 200 rehearsals tell.
    expect((output?.reported ?? 0) / (output?.spread ?? 0)).toBeCloseTo(1, 0.8);
  });

  it('reconciles readings that stand in a file', async () => {
    const text = `${LENS_LAB}trials: [{ file: a.csv, reads: { bench: { u: u, reading: v } } }]\n`;
    const { pipeline, trials } = await withTrials(text, {
      'a.csv': 'u (cm);v (mm)\n20,0;601\n25,0;374\n30,0;301\n40,0;239\n60,0;200\n',
    });
    const { ledgers, method } = valueFrom(reconcile(pipeline, valueFrom(trials)));
    expect(method.kind).toBe('second-order response');
    const [ledger] = ledgers;
    expect(ledger?.theory).toMatchObject({ value: 0.15 });
    expect(ledger?.measured?.value).toBeCloseTo(0.1498, 4);
    expect(ledger?.remainder?.verdict).toBe('explained');
  });

  it('says what is wrong with a relation', () => {
    expect(sentencesOn(change(LENS_LAB, ['relation: v = ', 'relation: 2*v = ']))).toEqual([
      'lab.yaml:12:13  A relation reads "y = …" with one symbol on the left; "2*v" stands there.',
    ]);
    expect(sentencesOn(change(LENS_LAB, ['40 cm, 60 cm]', '40 s, 60 cm]']))).toEqual([
      'lab.yaml:13:36  "40 s" has the dimension of time (s); the values before it are of another dimension (m).',
    ]);
    expect(sentencesOn(change(LENS_LAB, ['over: { u: [', 'over: { q: [1], u: [']))).toEqual([
      'lab.yaml:13:9  A relation is read over the values of exactly one symbol, as in "over: { u: [20 cm, 30 cm] }"; found 2 symbols.',
    ]);
    expect(sentencesOn(change(LENS_LAB, ['1/f - 1/(u', '1/f - 2/(w']))).toEqual([
      'lab.yaml:9:22  "w" is not a symbol here. The symbols here are f, delta, u and vergence.',
    ]);
    expect(sentencesOn(change(LENS_LAB, ['1/f - 1/(u', '1/f - magnification/(u']))).toEqual([
      expect.stringContaining('"vergence" is not a symbol here'),
    ]);
  });
});

const SWING_LAB = `benchwright: 1
title: Gravity from swings of different length
quantities:
  g: { value: 9.81 m/s^2, u: 0.001 m/s^2 }
  L: { value: 0.8 m, u: 1 mm }
  e: { is: from the bob's top to its middle, value: 10 mm, u: 1 mm }
  k: { is: pure number, value: 4, u: 0.02 }
effects:
  size of the bob: { off: { e: 0 mm } }
model:
  start: { phi: 0.001, omega: 0 1/s }
  rates: { phi: omega, omega: -g/(L + e)*sin(phi) }
  lasts: 10 s
instruments:
  watch: { kind: stopwatch, from: phi < 0, to: phi < 0, counts: 2, spread: 20 ms, division: 10 ms }
reduction:
  each run:
    - readings: { of: watch, gives: [T_1] }
    - mean: { of: T_1, gives: T }
  across runs:
    - line: { of: T^2, against: L, slope: s, intercept: T2_0 }
    - value: { of: k*pi^2/s, gives: g_r }
results:
  g_r:  { unit: m/s^2, theory: g }
  T2_0: { unit: s^2, theory: 0 }
plan: { settings: { L: [0.4 m, 60 cm, 0.8 m, 1.0 m] }, repeats: 2 }
`;

describe('a result across runs', () => {
  it('is the same line that the runs lie on: T² = 4π²/g (L + e)', () => {
    const { g_r, T2_0 } = resultsOf(SWING_LAB);
    expect(g_r).toBeCloseTo(9.81, 4);
    expect(T2_0).toBeCloseTo((4 * Math.PI ** 2 * 0.01) / 9.81, 6);
    expect(resultsOf(SWING_LAB, 0).T2_0).toBeCloseTo(0, 8);
  });

  it('carries the uncertainty of a constant that its steps read, and of the lengths that its rows were set to', () => {
    const [g_r, intercept] = valueFrom(predict(pipelineFrom(SWING_LAB))).results;
    expect(g_r?.predicted.standardUncertainty).toBeCloseTo(Math.hypot(0.001, (9.81 * 0.02) / 4), 4);
    // An error of all lengths alike moves the simulated periods with them; only e and g are left.
    const perMetre = (4 * Math.PI ** 2) / 9.81;
    expect(intercept?.predicted.standardUncertainty).toBeCloseTo(perMetre * 1e-3, 5);
  });

  it('measured, follows the lengths that the reduction is told', async () => {
    const perMetre = (4 * Math.PI ** 2) / 9.81;
    const lengths = [0.4, 0.6, 0.8, 1.0];
    const files = Object.fromEntries(
      lengths.map((L) => [`${L}.csv`, `time (s)\n${(2 * Math.sqrt(perMetre * (L + 0.01))).toFixed(6)}\n`]),
    );
    const entries = lengths.map(
      (L) => `  - { file: ${L}.csv, reads: { watch: time }, when: { L: ${L} m } }\n`,
    );
    const { pipeline, trials } = await withTrials(`${SWING_LAB}trials:\n${entries.join('')}`, files);
    const { ledgers } = valueFrom(reconcile(pipeline, valueFrom(trials)));
    const intercept = ledgers.find(({ result }) => result.name === 'T2_0');
    expect(intercept?.group).toBeNull();
    expect(intercept?.measured?.value).toBeCloseTo(perMetre * 0.01, 4);
    // The author's lengths are all off by the same millimetre at most: that moves the line by 4.02 s²/m of it.
    expect((intercept?.measured?.fromQuantities ?? 0) / (perMetre * 1e-3)).toBeCloseTo(1, 1);
    expect(Math.abs(intercept?.remainder?.value ?? 1)).toBeLessThan(1e-5);
  });

  it('of a quantity that the plan does not vary is a value, of one that it varies a column', () => {
    expect(sentencesOn(change(SWING_LAB, ['k*pi^2/s', 'k*pi^2/s*L/L']))).toEqual([
      expect.stringContaining('holds the column L'),
    ]);
    const computed = change(
      SWING_LAB,
      ['effects:', '  half: { equals: L/2 }\neffects:'],
      ['against: L', 'against: half'],
    );
    expect(resultsOf(computed).g_r).toBeCloseTo(9.81 / 2, 4);
  });
});

const CART_LAB = `benchwright: 1
title: A cart on a slope past gates and a camera
quantities:
  acc: { value: 1.5 m/s^2, u: 0.01 m/s^2 }
  b:   { value: 0 1/s, u: 0.01 1/s }
model:
  start: { x: 0 m, v: 0 m/s }
  rates: { x: v, v: acc - b*v }
  stops: { end: x > 1.2 m }
instruments:
  gates:  { kind: gates, of: x, at: [0.2 m, 0.5 m, 0.8 m, 1.1 m], flag: 20 mm, clock: 1 us }
  camera: { kind: frames, of: x, rate: 100 Hz, pixel: 0.1 mm }
  watch:  { kind: stopwatch, from: x > 0.2 m, to: x > 0.8 m }
  rule:   { kind: ruler, of: x }
reduction:
  each run:
    - motion from gates: { of: gates, gives: [t_g, x_g, v_g] }
    - line: { of: v_g^2, against: x_g, slope: two_a }
    - motion from frames: { of: camera, gives: [t_c, x_c, v_c, a_c], bandwidth: 10 Hz }
    - mean: { of: a_c, while: t_c > 0.3 s and t_c < 0.9 s, gives: a_cam }
    - readings: { of: watch, gives: [T_w] }
    - mean: { of: T_w, gives: T }
    - readings: { of: rule, gives: [s_r] }
    - mean: { of: s_r, gives: way }
results:
  two_a: { unit: m/s^2, theory: 2*acc }
  a_cam: { unit: m/s^2, theory: acc }
  T:     { unit: s }
  way:   { unit: m }
`;

describe('gates, a camera, a stopwatch and a ruler', () => {
  it('all see the same uniformly accelerated cart (closed form)', () => {
    const { two_a, a_cam, T, way } = resultsOf(CART_LAB);
    expect(two_a).toBeCloseTo(3, 2);
    expect(a_cam).toBeCloseTo(1.5, 3);
    expect(T).toBeCloseTo(Math.sqrt(1.6 / 1.5) - Math.sqrt(0.4 / 1.5), 9);
    expect(way).toBeCloseTo(1.2, 9);
  });
});

const STOPPED = change(CART_LAB, ['acc - b*v', '-b*v']);

describe('what only shows when the lab is run', () => {
  it('a stop that never comes is told, with the condition that was waited for', () => {
    const told = sentencesOf(predict(pipelineFrom(STOPPED)));
    expect(told).toHaveLength(1);
    expect(told[0]).toMatch(/end|stop|rest/);
  });

  it('too few readings for a line name the step, the number and the window', () => {
    const text = change(
      CART_LAB,
      ['against: x_g, slope: two_a }', 'against: x_g, slope: two_a }'],
      ['at: [0.2 m, 0.5 m, 0.8 m, 1.1 m]', 'at: [0.2 m]'],
    );
    const told = sentencesOf(predict(pipelineFrom(text)));
    expect(told).toHaveLength(1);
    expect(told[0]).toMatch(/line of .*v_g.* against x_g.*(1 reading|one reading|1 row)/);
  });

  it('a result that is no finite number names the quantity or the step', () => {
    const text = change(
      CART_LAB,
      ['  b:   {', '  n:   { value: 0 }\n  b:   {'],
      [
        '    - readings: { of: watch',
        '    - value: { of: two_a/n, gives: ratio }\n    - readings: { of: watch',
      ],
      ['  way:   { unit: m }', '  ratio: { unit: m/s^2 }'],
    );
    const told = sentencesOf(predict(pipelineFrom(text)));
    expect(told.join('\n')).toMatch(/ratio|two_a\/n/);
  });
});

describe('a lab without a model yet', () => {
  const text = `benchwright: 1
title: Only measured
quantities:
  R: { value: 2 ohm, u: 0.01 ohm }
instruments:
  meter: { kind: sampled, of: voltage, rate: 1 Hz, noise: 0.01 V }
reduction:
  each run:
    - readings: { of: meter, gives: [t, U] }
    - mean: { of: U, gives: U_m }
    - value: { of: U_m/R, gives: I_m }
results: { I_m: { unit: A } }
trials: [{ file: a.csv, reads: { meter: { t: t, value: U } } }]
`;

  it('reduces its trials, and says that nothing can be predicted', async () => {
    const { pipeline, trials } = await withTrials(text, {
      'a.csv': 't (s),U (V)\n0,1.0\n1,1.1\n2,1.05\n3,1.01\n',
    });
    const reduced = valueFrom(reduceTrials(pipeline, valueFrom(trials)));
    expect(reduced.failed).toEqual([]);
    expect(reduced.outputs[0]?.value).toBeCloseTo(0.52, 12);
    expect(sentencesOf(predict(pipeline))).toEqual([
      'lab.yaml  The lab has no model, so nothing can be predicted. Add "model" to the lab file.',
    ]);
  });
});
