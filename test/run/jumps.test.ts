import { describe, expect, it } from 'vitest';
import { predict } from '../../src/run/index.ts';
import { pipelineFrom, sentencesOn } from '../lab/slope-lab.ts';
import { must } from '../labs/shipped-lab.ts';

const G = 9.81;
const H = 1.3;
const E = 0.8;
const R = 0.025;

/** A ball without drag that bounces in view of three instruments. */
const text = `benchwright: 1
title: A ball that bounces
quantities:
  g: { value: ${G} m/s^2 }
  h: { value: ${H} m }
  e: { value: ${E} }
  r: { value: ${R} m }
model:
  start: { x: h, v: 0 m/s }
  rates: { x: v, v: -g }
  jumps:
    the ball meets the floor: { when: x < 0 m, sets: { v: -e*v } }
  lasts: 2 s
instruments:
  speed: { kind: sampled, of: v, rate: 1000 Hz }
  wheel: { kind: edges, of: x/r, edges per turn: 20 }
  barriers: { kind: gates, of: x, at: [0.5 m], flag: 20 mm }
reduction:
  each run:
    - readings: { of: speed, gives: [t, v] }
    - peak: { of: v, gives: v_up }
results:
  v_up: { unit: m/s, theory: e*sqrt(2*g*h) }
`;

/** The closed form of place and speed. */
function ball(t: number): { x: number; v: number } {
  let start = Math.sqrt((2 * H) / G);
  if (t < start) return { x: H - 0.5 * G * t * t, v: -G * t };
  let up = E * G * start;
  while (t >= start + (2 * up) / G) {
    start += (2 * up) / G;
    up *= E;
  }
  const s = t - start;
  return { x: up * s - 0.5 * G * s * s, v: up - G * s };
}

describe('instruments look at a motion that jumps', () => {
  const pipeline = pipelineFrom(text);
  const { readings } = must(pipeline.simulate(pipeline.values(pipeline.nominal)));
  const columnsOf = (instrument: string): readonly Float64Array[] =>
    readings.find((one) => one.instrument === instrument)?.columns.map(({ values }) => values) ?? [];

  it('a sampled speed is right on both sides of every bounce', () => {
    const [t = new Float64Array(), v = new Float64Array()] = columnsOf('speed');
    expect(t.length).toBeGreaterThan(1990);
    for (const [i, time] of t.entries())
      expect(Math.abs((v[i] ?? Number.NaN) - ball(time).v)).toBeLessThan(1e-9);
  });

  it('edges of a wheel that turns back at once come at the places of its marks', () => {
    const [stamps = new Float64Array()] = columnsOf('wheel');
    const spacing = (2 * Math.PI * R) / 20;
    expect(stamps.length).toBeGreaterThan(300);
    for (const stamp of stamps) {
      const passed = (ball(stamp).x - H) / spacing;
      expect(Math.abs(passed - Math.round(passed))).toBeLessThan(1e-8);
    }
    // Down past ⌊H/spacing⌋ marks, up past those below e²H, and so on.
    const marks = (height: number): number => Math.floor(H / spacing) - Math.ceil((H - height) / spacing) + 1;
    const end = ball(2);
    const whole = Math.floor(H / spacing) + 2 * marks(E ** 2 * H);
    expect(stamps.length).toBeGreaterThanOrEqual(whole);
    expect(end.x).toBeGreaterThan(0);
  });

  it('a light barrier sees the ball each time, down and up', () => {
    const passes = columnsOf('barriers')[1] ?? new Float64Array();
    expect(passes.length).toBeGreaterThanOrEqual(3);
    for (const time of passes) expect(Math.abs(ball(time).x - 0.5)).toBeLessThan(0.011);
  });

  it('a result is that of the closed form', () => {
    const [result] = must(predict(pipeline)).results;
    expect(result?.predicted.value).toBeCloseTo(E * Math.sqrt(2 * G * H), 2);
  });
});

describe('jumps in a lab file', () => {
  it.each([
    ['when: x < 0 m', 'when: x < 0 s', 'time'],
    ['sets: { v: -e*v }', 'sets: { v: -e*x }', 'speed'],
    ['sets: { v: -e*v }', 'sets: { y: -e*v }', 'which is no state'],
    ['sets: { v: -e*v }', 'sets: { v: -e*w }', 'w'],
    ['sets: { v: -e*v }', 'gives: { v: -e*v }', '"sets"'],
  ])('%s → %s is told', (from, to, words) => {
    expect(sentencesOn(text.replace(from, to)).join('\n')).toContain(words);
  });

  it('belong to a motion', () => {
    const relation = text
      .replace(/model:[\s\S]*?jumps:/, 'model:\n  relation: y = h + 0*g\n  jumps:')
      .replace('  lasts: 2 s\n', '');
    expect(sentencesOn(relation).join('\n')).toContain('"jumps" belongs to a model that evolves in time');
  });
});
