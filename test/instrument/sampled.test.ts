import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { randomSource } from '../../src/inference/index.ts';
import {
  instrumentKinds,
  type MotionSource,
  type SettingValue,
  type Source,
} from '../../src/instrument/index.ts';
import { force, length, motionOf, settings, time } from './sources.ts';

const sampled = instrumentKinds.get('sampled');
if (sampled === undefined) throw new Error('there is a sampled instrument');

function observe(source: Source, given: Record<string, SettingValue>, seed?: number) {
  const random = seed === undefined ? null : randomSource(seed);
  const observed = sampled?.observe(source, settings(given), random);
  if (observed === undefined || !observed.ok) throw new Error('observed');
  return observed.value;
}

function physical(readings: ReturnType<typeof observe>, given: Record<string, SettingValue>) {
  const result = sampled?.physical(readings, settings(given));
  if (result === undefined || !result.ok) throw new Error('physical');
  return { t: result.value[0], value: result.value[1], notes: result.warnings };
}

/** A signal that is 0 N until the break at 0.5 s and 1 N from then on. */
const step: MotionSource = motionOf((t) => (t < 0.5 ? 0 : 1), 3, {
  breaks: [0.5],
  valueBefore: (t) => (t <= 0.5 ? 0 : 1),
  dimension: force,
});

describe('a sampled signal', () => {
  it('is read at equal intervals from the release to the end', () => {
    const { columns } = observe(
      motionOf((t) => 2 * t, 1, { dimension: length }),
      { rate: 4 },
    );
    expect(Array.from(columns[0].values)).toEqual([0, 0.25, 0.5, 0.75, 1]);
    expect(Array.from(columns[1].values)).toEqual([0, 0.5, 1, 1.5, 2]);
    expect(columns[0].dimension).toEqual(time);
    expect(columns[1].dimension).toEqual(length);
  });

  it('starts later where that is asked', () => {
    const { columns } = observe(
      motionOf((t) => t, 1),
      { interval: 0.5, starts: 0.2 },
    );
    expect(Array.from(columns[0].values)).toEqual([0.2, 0.7].map((t) => expect.closeTo(t, 14)));
  });

  it('with a lag answers a step with 1 − e^(−t/τ) (closed form)', () => {
    for (const lag of [1e-4, 0.03, 0.4, 50]) {
      const { columns } = observe(step, { rate: 100, lag });
      columns[0].values.forEach((t, i) => {
        const exact = t < 0.5 ? 0 : -Math.expm1(-(t - 0.5) / lag);
        expect(Math.abs(columns[1].values[i] - exact)).toBeLessThan(1e-12);
      });
    }
  });

  it('with a lag follows a ramp τ behind, after e^(−t/τ) (closed form)', () => {
    for (const lag of [1e-3, 0.2, 7]) {
      const { columns } = observe(
        motionOf((t) => 3 * t, 2),
        { rate: 50, lag },
      );
      columns[0].values.forEach((t, i) => {
        const exact = 3 * (t + lag * Math.expm1(-t / lag));
        expect(Math.abs(columns[1].values[i] - exact)).toBeLessThan(1e-12 * Math.max(1, 3 * lag));
      });
    }
  });

  it('with a lag turns a wave by arctan ωτ and lessens it by 1/√(1 + ω²τ²), to 1e-7 of its range (closed form)', () => {
    fc.assert(
      fc.property(
        fc.double({ min: 0.5, max: 300, noNaN: true }),
        fc.double({ min: 1e-4, max: 10, noNaN: true }),
        fc.integer({ min: 3, max: 400 }),
        (omega, lag, rate) => {
          const { columns } = observe(
            motionOf((t) => Math.sin(omega * t), 2),
            { rate, lag },
          );
          const z = omega * lag;
          columns[0].values.forEach((t, i) => {
            const settled = (Math.sin(omega * t) - z * Math.cos(omega * t)) / (1 + z * z);
            const exact = settled + (z / (1 + z * z)) * Math.exp(-t / lag);
            expect(Math.abs(columns[1].values[i] - exact)).toBeLessThan(2e-7);
          });
        },
      ),
      { seed: 5, numRuns: 60 },
    );
  });

  it('is seen on both sides of each break, and at its end, by an instrument that looks all the time', () => {
    const { columns } = observe(step, { interval: 0 });
    const [times, values] = columns.map((column) => column.values);
    const at = times.indexOf(0.5);
    expect(values[at]).toBe(1);
    expect(values[at - 1]).toBe(0);
    expect(0.5 - times[at - 1]).toBeLessThan(1e-15);
    expect(times[times.length - 1]).toBe(3);
    expect(times.every((t, i) => i === 0 || t > times[i - 1])).toBe(true);
  });

  it('that looks all the time sees the end even where a break stands there', () => {
    const stops = motionOf((t) => (t >= 1 ? 0 : t), 1, { breaks: [1], valueBefore: (t) => t });
    const [times, values] = observe(stops, { interval: 0 }).columns.map((column) => column.values);
    expect(times[times.length - 1]).toBe(1);
    expect(values[values.length - 1]).toBe(1);
  });

  it('of a motion needs to know how often it is read', () => {
    const observed = sampled.observe(
      motionOf((t) => t, 1),
      settings({}),
      null,
    );
    if (observed.ok) throw new Error('how often?');
    expect(observed.problems[0].message).toBe(
      'neither "rate" nor "interval" says how often the signal is read; one of them must.',
    );
  });

  it('shows its value before the end where the motion stops with a jump', () => {
    const falls = motionOf((t) => (t >= 1 ? 0 : 5 * t), 1, { valueBefore: (t) => 5 * t });
    const { columns } = observe(falls, { rate: 2 });
    expect(columns[1].values[2]).toBe(5);
  });

  it('stands at the end of the range beyond it, and the inverse says so', () => {
    const given = { rate: 10, range: Float64Array.of(-1, 1.5) };
    const readings = observe(
      motionOf((t) => 2 * t, 1),
      given,
    );
    expect(Math.max(...readings.columns[1].values)).toBe(1.5);
    const back = physical(readings, given);
    expect(back.notes.map((note) => note.message)).toEqual([
      '3 readings stand at the upper end of the range; the true values may lie beyond.',
    ]);
  });

  it('has its zero taken off again by the inverse', () => {
    const given = { rate: 10, zero: 0.3 };
    const readings = observe(
      motionOf((t) => t, 1),
      given,
    );
    expect(readings.columns[1].values[0]).toBe(0.3);
    expect(Array.from(physical(readings, given).value.values)).toEqual(
      Array.from({ length: 11 }, (_, i) => expect.closeTo(i / 10, 12)),
    );
  });

  it('comes back within resolution/√12 and noise, as a root of squares (2000 readings a case)', () => {
    fc.assert(
      fc.property(
        fc.double({ min: 0, max: 0.05, noNaN: true }),
        fc.double({ min: 0.005, max: 0.05, noNaN: true }),
        fc.integer({ min: 1, max: 1_000_000 }),
        (noise, resolution, seed) => {
          const truth = (t: number) => Math.sin(t) + 0.3 * t;
          const given = { rate: 1000, noise, resolution };
          const back = physical(observe(motionOf(truth, 2), given, seed), given);
          let squares = 0;
          back.t.values.forEach((t, i) => {
            squares += (back.value.values[i] - truth(t)) ** 2;
          });
          const found = Math.sqrt(squares / back.t.values.length);
          const stated = Number(back.value.u);
          expect(stated).toBeCloseTo(Math.hypot(resolution / Math.sqrt(12), noise), 12);
          // 2000 readings tell a standard deviation to about 2 %; four times that is allowed.
          expect(found / stated).toBeGreaterThan(0.92);
          expect(found / stated).toBeLessThan(1.08);
        },
      ),
      { seed: 3, numRuns: 40 },
    );
  });

  it('is the same for the same seed and begins at a random moment of the first interval', () => {
    const given = { rate: 10, noise: 0.1 };
    const source = motionOf((t) => t, 1);
    expect(observe(source, given, 7)).toEqual(observe(source, given, 7));
    const firsts = Array.from(
      { length: 200 },
      (_, seed) => observe(source, given, seed).columns[0].values[0],
    );
    expect(Math.min(...firsts)).toBeGreaterThanOrEqual(0);
    expect(Math.max(...firsts)).toBeLessThan(0.1);
    expect(firsts.reduce((sum, first) => sum + first, 0) / 200).toBeCloseTo(0.05, 2);
  });

  it('of a relation is read once at each setting, without a time', () => {
    const readings = observe(
      {
        kind: 'points',
        values: Float64Array.of(1, 2, 3),
        dimension: force,
        against: { name: 'L', values: Float64Array.of(0.1, 0.2, 0.3), dimension: length },
      },
      { resolution: 0.5 },
    );
    const back = physical(readings, { resolution: 0.5 });
    expect(back.t.name).toBe('L');
    expect(Array.from(back.t.values)).toEqual([0.1, 0.2, 0.3]);
    expect(Array.from(back.value.values)).toEqual([1, 2, 3]);
    expect(back.value.dimension).toEqual(force);
  });

  it('with gaps, repeated and backward stamps loses those rows, and the notes count them', () => {
    const columns = [
      { name: 't', values: Float64Array.of(0, 1, 1, 2, Number.NaN, 1.5, 3), dimension: time, u: 0 },
      { name: 'value', values: Float64Array.of(5, 6, 7, Number.NaN, 9, 10, 11), dimension: force, u: 0 },
    ];
    const back = physical({ instrument: 'force cell', columns, notes: [] }, {});
    expect(Array.from(back.t.values)).toEqual([0, 1, 1.5, 3]);
    expect(Array.from(back.value.values)).toEqual([5, 6, 10, 11]);
    expect(back.notes.map((note) => note.code)).toEqual(['missing-reading', 'repeated-stamp']);
  });

  it('of a file without one of its columns is refused, and the message names those that are there', () => {
    const columns = [{ name: 't', values: Float64Array.of(0, 1), dimension: time, u: 0 }];
    const result = sampled.physical({ instrument: 'force cell', columns, notes: [] }, settings({}));
    if (result.ok) throw new Error('a column is missing');
    expect(result.problems[0].message).toBe('the column "value" is not there; there is "t".');
  });

  it('taken too often is refused before memory runs out', () => {
    const observed = sampled.observe(
      motionOf((t) => t, 100),
      settings({ rate: 1e6 }),
      null,
    );
    if (observed.ok) throw new Error('too many');
    expect(observed.problems[0].code).toBe('too-many-readings');
  });
});
