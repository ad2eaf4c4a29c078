import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { randomSource } from '../../src/inference/index.ts';
import { instrumentKinds, type Readings, type Source } from '../../src/instrument/index.ts';
import { angle, motionOf, settings, time } from './sources.ts';

const edges = instrumentKinds.get('edges');
if (edges === undefined) throw new Error('there are edges');

function observe(source: Source, given: Record<string, number>, seed?: number): Float64Array {
  const random = seed === undefined ? null : randomSource(seed);
  const observed = edges?.observe(source, settings(given), random);
  if (observed === undefined || !observed.ok) throw new Error('observed');
  return observed.value.columns[0].values;
}

function readingsOf(times: readonly number[]): Readings {
  const values = Float64Array.from(times);
  return { instrument: 'wheel gate', columns: [{ name: 'edge', values, dimension: time, u: 0 }], notes: [] };
}

function physical(times: readonly number[], given: Record<string, number | string>) {
  const result = edges?.physical(readingsOf(times), settings(given));
  if (result === undefined || !result.ok) throw new Error('physical');
  return { t: result.value[0], angle: result.value[1], notes: result.warnings };
}

describe('edges', () => {
  it('of a wheel in steady acceleration come at √(2kδ/α) (closed form)', () => {
    const alpha = 3;
    const times = observe(
      motionOf((t) => 0.5 * alpha * t * t, 5),
      { 'edges per turn': 10 },
    );
    expect(times.length).toBe(59);
    times.forEach((t, i) => {
      const exact = Math.sqrt((2 * (i + 1) * 2 * Math.PI) / 10 / alpha);
      expect(Math.abs(t - exact)).toBeLessThan(1e-13 * 5);
    });
  });

  it('of a chain that runs away come at arcosh(1 + kδ)/κ (closed form)', () => {
    const times = observe(
      motionOf((t) => Math.cosh(2.5 * t) - 1, 2),
      { 'edges per turn': 20 },
    );
    expect(times.length).toBe(Math.floor((Math.cosh(5) - 1) / (Math.PI / 10)));
    times.forEach((t, i) => {
      expect(Math.abs(t - Math.acosh(1 + ((i + 1) * Math.PI) / 10) / 2.5)).toBeLessThan(2e-13);
    });
  });

  it('come sooner by the phase that has already passed', () => {
    const source = motionOf((t) => 2 * Math.PI * t, 1);
    expect(Array.from(observe(source, { 'edges per turn': 4, phase: 0.25 }))).toEqual(
      [0.1875, 0.4375, 0.6875, 0.9375].map((t) => expect.closeTo(t, 12)),
    );
  });

  it('of a swinging wheel are counted in both directions, and one more at the mark passed back (closed form)', () => {
    const amplitude = 1;
    const spacing = (2 * Math.PI) / 12;
    // Swings out from the mark at the gate to 1 rad and back through it to −1 rad.
    const times = observe(
      motionOf((t) => amplitude * Math.sin(t), 2 * Math.PI),
      { 'edges per turn': 12 },
    );
    const up = Math.asin(spacing);
    const expected = [up, Math.PI - up, Math.PI, Math.PI + up, 2 * Math.PI - up, 2 * Math.PI];
    // The last mark is reached as the motion ends; rounding decides whether it is stamped.
    expect(Array.from(times.slice(0, 5))).toEqual(expected.slice(0, 5).map((t) => expect.closeTo(t, 12)));
  });

  it('that lie just inside a turning point are found on both sides of it', () => {
    const spacing = (2 * Math.PI) / 8;
    const beyond = 1e-9;
    const source = motionOf((t) => (spacing + beyond) * Math.sin(t), 3);
    const times = observe(source, { 'edges per turn': 8 });
    const half = Math.acos(spacing / (spacing + beyond));
    expect(times.length).toBe(2);
    expect(Math.abs(times[0] - (Math.PI / 2 - half))).toBeLessThan(1e-9);
    expect(Math.abs(times[1] - (Math.PI / 2 + half))).toBeLessThan(1e-9);
  });

  it('of many swings in one motion are all found', () => {
    const spacing = (2 * Math.PI) / 40;
    const times = observe(
      motionOf((t) => Math.sin(50 * t), 20, {}),
      { 'edges per turn': 40 },
    );
    // In each swing of ±1 rad, ⌊1/δ⌋ = 6 marks on either side are passed twice, the one at rest twice.
    const swings = (20 * 50) / (2 * Math.PI);
    const perSwing = 4 * Math.floor(1 / spacing) + 2;
    expect(Math.abs(times.length - swings * perSwing)).toBeLessThan(perSwing);
    expect(times.every((t, i) => i === 0 || t > times[i - 1])).toBe(true);
  });

  it('at a jump of the angle are stamped at the jump', () => {
    const source = motionOf((t) => (t < 1 ? 0.1 * t : 2 + 0.1 * t), 2, {
      breaks: [1],
      valueBefore: (t) => (t <= 1 ? 0.1 * t : 2 + 0.1 * t),
    });
    const times = observe(source, { 'edges per turn': 6.283185307179586 });
    expect(Array.from(times)).toEqual([1, 1]);
  });

  it('are none where the wheel does not turn by a spacing', () => {
    expect(
      observe(
        motionOf(() => 3, 2),
        { 'edges per turn': 10 },
      ).length,
    ).toBe(0);
  });

  it('of any smooth turning are where the angle has the value of a mark (property)', () => {
    fc.assert(
      fc.property(
        fc.double({ min: 0.1, max: 20, noNaN: true }),
        fc.double({ min: -0.9, max: 0.9, noNaN: true }),
        fc.double({ min: 0.1, max: 8, noNaN: true }),
        fc.integer({ min: 1, max: 40 }),
        (speed, wobble, rate, marks) => {
          const turn = (t: number) => speed * t + (wobble * speed * Math.sin(rate * t)) / rate;
          const times = observe(motionOf(turn, 3), { 'edges per turn': marks });
          const spacing = (2 * Math.PI) / marks;
          expect(times.length).toBe(Math.floor(turn(3) / spacing));
          times.forEach((t, i) => {
            expect(Math.abs(turn(t) - (i + 1) * spacing)).toBeLessThan(1e-12 * Math.max(1, turn(3)));
          });
        },
      ),
      { seed: 11, numRuns: 200 },
    );
  });

  it('stamped by a clock are whole ticks, and come back within the stated uncertainty', () => {
    const clock = 1e-3;
    const source = motionOf((t) => Math.cosh(2 * t) - 1, 2);
    const exact = observe(source, { 'edges per turn': 10 });
    let squares = 0;
    let count = 0;
    for (let seed = 0; seed < 200; seed++) {
      const stamps = observe(source, { 'edges per turn': 10, clock }, seed);
      expect(stamps.every((t) => Math.abs(t / clock - Math.round(t / clock)) < 1e-6)).toBe(true);
      const differences = exact.map((t, i) => stamps[i] - t);
      const common = differences.reduce((sum, value) => sum + value, 0) / differences.length;
      for (const value of differences) squares += (value - common) ** 2;
      count += differences.length - 1;
    }
    const back = physical(Array.from(exact), { 'edges per turn': 10, clock });
    expect(back.t.u).toBeCloseTo(clock / Math.sqrt(12), 12);
    // 200 runs: the found deviation scatters by about 1 %.
    expect(Math.sqrt(squares / count) / (clock / Math.sqrt(12))).toBeGreaterThan(0.95);
    expect(Math.sqrt(squares / count) / (clock / Math.sqrt(12))).toBeLessThan(1.05);
  });

  it('give back the angle of each mark', () => {
    const back = physical([0.1, 0.2, 0.3], { 'edges per turn': 8, phase: 0.5 });
    expect(Array.from(back.angle.values)).toEqual([0.5, 1.5, 2.5].map((k) => (k * Math.PI) / 4));
    expect(back.angle.dimension).toEqual(angle);
    expect(back.notes).toEqual([]);
  });

  it('stamped twice are one edge, and a stamp that jumps back is an edge without a time', () => {
    const back = physical([0.1, 0.2, 0.2, 0.3, 0.05, 0.5, 0.6], { 'edges per turn': 1 });
    expect(Array.from(back.t.values)).toEqual([0.1, 0.2, 0.3, 0.5, 0.6]);
    expect(Array.from(back.angle.values, (a) => Math.round(a / (2 * Math.PI)))).toEqual([1, 2, 3, 5, 6]);
    expect(back.notes.map((note) => note.message)).toEqual([
      '1 row is set aside: the time stamp is that of a row before, first in row 3.',
      '1 row is set aside: the time stamp does not fit between those around it, first in row 5.',
    ]);
  });

  it('keep all rows but one where a single stamp jumps forward', () => {
    const back = physical([0.1, 0.2, 99, 0.4, 0.5, 0.6], { 'edges per turn': 1 });
    expect(Array.from(back.t.values)).toEqual([0.1, 0.2, 0.4, 0.5, 0.6]);
  });

  it('of which one was lost are counted on past it, and the note says where', () => {
    const all = Array.from({ length: 12 }, (_, k) => Math.sqrt(2 * (k + 1)));
    const back = physical(all.toSpliced(6, 1), { 'edges per turn': 1 });
    expect(Array.from(back.angle.values, (a) => Math.round(a / (2 * Math.PI)))).toEqual([
      1, 2, 3, 4, 5, 6, 8, 9, 10, 11, 12,
    ]);
    expect(back.notes).toHaveLength(1);
    expect(back.notes[0].message).toContain('an edge seems to be lost');
    const left = physical(all.toSpliced(6, 1), { 'edges per turn': 1, 'lost edges': 'left' });
    expect(Math.round(left.angle.values[10] / (2 * Math.PI))).toBe(11);
  });

  it('around a turning back of the wheel are not taken for lost ones', () => {
    const offset = 0.4;
    const after = Array.from({ length: 8 }, (_, k) => Math.sqrt(k + offset));
    const times = [...after.map((t) => 5 - t).reverse(), ...after.map((t) => 5 + t)];
    expect(physical(times, { 'edges per turn': 1 }).notes).toEqual([]);
  });

  it('of a file without any give no rows, and one gives one', () => {
    expect(physical([], { 'edges per turn': 1 }).t.values.length).toBe(0);
    expect(physical([0.3], { 'edges per turn': 1 }).t.values.length).toBe(1);
  });

  it('of an angle that is not finite are refused with the time', () => {
    const observed = edges.observe(
      motionOf((t) => 1 / (t - 1) ** 2 - 1, 2),
      settings({ 'edges per turn': 1 }),
      null,
    );
    if (observed.ok) throw new Error('more edges pass near the pole than can be worked with');
    expect(['not-finite', 'too-many-readings']).toContain(observed.problems[0].code);
  });
});
