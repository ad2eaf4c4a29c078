import { describe, expect, it } from 'vitest';
import { randomSource } from '../../src/inference/index.ts';
import { instrumentKinds, type SettingValue, type Source } from '../../src/instrument/index.ts';
import { length, motionOf, settings, time } from './sources.ts';

function kind(name: string) {
  const found = instrumentKinds.get(name);
  if (found === undefined) throw new Error(name);
  return found;
}

function observe(name: string, source: Source, given: Record<string, SettingValue>, seed?: number) {
  const observed = kind(name).observe(
    source,
    settings(given),
    seed === undefined ? null : randomSource(seed),
  );
  if (!observed.ok) throw new Error(observed.problems[0].message);
  return observed.value;
}

function physical(name: string, readings: ReturnType<typeof observe>, given: Record<string, SettingValue>) {
  const result = kind(name).physical(readings, settings(given));
  if (!result.ok) throw new Error(result.problems[0].message);
  return result.value;
}

const fall = motionOf((t) => 0.5 * 9.81 * t * t, 0.6, { dimension: length });

describe('gates', () => {
  const at = Float64Array.of(0.4, 0.2, 1.2);

  it('stamp the times at their places in order, as √(2x/g) of a fall (closed form)', () => {
    const { columns } = observe('gates', fall, { at, clock: 0 });
    expect(Array.from(columns[0].values)).toEqual([0.2, 0.4, 1.2]);
    columns[1].values.forEach((t, i) => {
      expect(Math.abs(t - Math.sqrt((2 * columns[0].values[i]) / 9.81))).toBeLessThan(1e-13);
    });
  });

  it('are blocked while the flag passes, and its width over that time is the speed half way in time (closed form)', () => {
    const given = { at, flag: 0.05, clock: 0 };
    const [t, place, blocked] = physical('gates', observe('gates', fall, given), given);
    expect(t.values.length).toBe(3);
    t.values.forEach((middle, i) => {
      const enters = Math.sqrt((2 * (place.values[i] - 0.025)) / 9.81);
      const leaves = Math.sqrt((2 * (place.values[i] + 0.025)) / 9.81);
      expect(blocked.values[i]).toBeCloseTo(leaves - enters, 12);
      expect(0.05 / blocked.values[i]).toBeCloseTo(9.81 * middle, 10);
    });
  });

  it('see passages in both directions', () => {
    const throwUp = motionOf((t) => 4 * t - 0.5 * 9.81 * t * t, 0.8, { dimension: length });
    const { columns } = observe('gates', throwUp, { at: Float64Array.of(0.3, 0.6), flag: 0.02 });
    expect(Array.from(columns[0].values)).toEqual([0.3, 0.6, 0.6, 0.3]);
  });

  it('do not report a passage that the end of the motion cuts off', () => {
    const { columns } = observe('gates', fall, { at: Float64Array.of(0.2, 1.7658), flag: 0.05 });
    expect(Array.from(columns[0].values)).toEqual([0.2]);
  });

  it('take their places from the settings where a file has only one time for each', () => {
    const readings = {
      instrument: 'gates',
      columns: [{ name: 'time', values: Float64Array.of(0.1, 0.2, 0.3), dimension: time, u: 0 }],
      notes: [],
    };
    const [, place] = physical('gates', readings, { at: Float64Array.of(0.2, 0.4, 0.6) });
    expect(Array.from(place.values)).toEqual([0.2, 0.4, 0.6]);
  });
});

describe('frames', () => {
  it('show the mean place over the exposure, which the inverse gives to its middle (closed form)', () => {
    const given = { rate: 30, exposure: 0.01 };
    const [t, place] = physical('frames', observe('frames', fall, given), given);
    t.values.forEach((middle, i) => {
      // The mean of t² over an exposure T is t² + T²/12.
      const exact = 0.5 * 9.81 * (middle * middle + 0.01 ** 2 / 12);
      expect(Math.abs(place.values[i] - exact)).toBeLessThan(1e-14);
    });
    expect(t.values[t.values.length - 1]).toBeLessThanOrEqual(0.6 - 0.005);
  });

  it('see both sides of a break within the exposure', () => {
    const source = motionOf((t) => (t < 0.5 ? 0 : 1), 1, {
      breaks: [0.5],
      valueBefore: (t) => (t <= 0.5 ? 0 : 1),
      dimension: length,
    });
    const { columns } = observe('frames', source, { rate: 10, exposure: 0.1 });
    const { columns: shifted } = observe('frames', { ...source, startS: 0.05 }, { rate: 10, exposure: 0.1 });
    expect(columns[1].values[5]).toBeCloseTo(1, 12);
    expect(shifted[1].values[4]).toBeCloseTo(0.5, 12);
  });

  it('come back within pixel/√12 and noise', () => {
    const given = { rate: 200, pixel: 0.002, noise: 0.0005 };
    let squares = 0;
    let count = 0;
    for (let seed = 0; seed < 40; seed++) {
      const [t, place] = physical('frames', observe('frames', fall, given, seed), given);
      expect(place.u).toBeCloseTo(Math.hypot(0.002 / Math.sqrt(12), 0.0005), 12);
      t.values.forEach((each, i) => {
        squares += (place.values[i] - 0.5 * 9.81 * each * each) ** 2;
      });
      count += t.values.length;
    }
    const ratio = Math.sqrt(squares / count) / Math.hypot(0.002 / Math.sqrt(12), 0.0005);
    expect(ratio).toBeGreaterThan(0.95);
    expect(ratio).toBeLessThan(1.05);
  });
});

describe('a stopwatch', () => {
  const swing = {
    kind: 'events' as const,
    startS: 0,
    endS: 30,
    breaks: new Float64Array(0),
    from: { valueAt: (t: number) => Math.cos(2 * t), valueBefore: (t: number) => Math.cos(2 * t) },
    to: { valueAt: (t: number) => Math.cos(2 * t), valueBefore: (t: number) => Math.cos(2 * t) },
  };

  it('times several periods together and the inverse divides by their number', () => {
    // From release, where the condition is true, to the 9th time that cos 2t turns positive again: t = (9 − ¼)·π.
    const readings = observe('stopwatch', swing, { counts: 9 });
    expect(readings.columns[0].values[0]).toBeCloseTo((9 - 0.25) * Math.PI, 12);
    const [duration] = physical('stopwatch', readings, { counts: 9 });
    expect(duration.values[0]).toBeCloseTo(((9 - 0.25) / 9) * Math.PI, 12);
  });

  it('runs from the start to the end where no condition is given', () => {
    const readings = observe('stopwatch', { ...swing, from: null, to: null }, {});
    expect(readings.columns[0].values[0]).toBe(30);
  });

  it('says which condition never comes', () => {
    const never = { valueAt: () => -1, valueBefore: () => -1 };
    const observed = kind('stopwatch').observe({ ...swing, to: never }, settings({}), null);
    if (observed.ok) throw new Error('it never comes');
    expect(observed.problems[0].message).toBe(
      'the watch does not stop: the condition "to" never becomes true while the motion lasts.',
    );
  });

  it('of a duration comes back within spread and division, with the mean reaction taken off', () => {
    const given = { counts: 5, reaction: 0.05, spread: 0.08, division: 0.1 };
    const source = motionOf(() => 1.7, 1, { dimension: time });
    let squares = 0;
    let sum = 0;
    let stated = 0;
    const runs = 4000;
    for (let seed = 0; seed < runs; seed++) {
      const [duration] = physical('stopwatch', observe('stopwatch', source, given, seed), given);
      squares += (duration.values[0] - 1.7) ** 2 / runs;
      sum += (duration.values[0] - 1.7) / runs;
      stated = Number(duration.u);
    }
    expect(stated).toBeCloseTo(Math.hypot(0.08, 0.1 / Math.sqrt(12)) / 5, 12);
    expect(Math.abs(sum)).toBeLessThan((4 * stated) / Math.sqrt(runs));
    expect(Math.sqrt(squares) / stated).toBeGreaterThan(0.95);
    expect(Math.sqrt(squares) / stated).toBeLessThan(1.05);
  });
});

describe('a ruler', () => {
  it('reads where the motion ends, to a division only with a random source', () => {
    expect(observe('ruler', fall, { division: 0.01 }).columns[0].values[0]).toBeCloseTo(1.7658, 12);
    expect(observe('ruler', fall, { division: 0.01 }, 1).columns[0].values[0]).toBeCloseTo(1.77, 12);
  });

  it('reads each point of a relation beside its setting', () => {
    const source = {
      kind: 'points' as const,
      values: Float64Array.of(0.301, 0.402),
      dimension: length,
      against: { name: 'u', values: Float64Array.of(0.2, 0.25), dimension: length },
    };
    const given = { division: 0.001, spread: 0.002 };
    const [setting, reading] = physical('ruler', observe('ruler', source, given), given);
    expect(Array.from(setting.values)).toEqual([0.2, 0.25]);
    expect(Array.from(reading.values)).toEqual([0.301, 0.402]);
    expect(reading.u).toBeCloseTo(Math.hypot(0.001 / Math.sqrt(12), 0.002), 12);
  });
});

describe('every kind of instrument', () => {
  for (const [name, each] of instrumentKinds) {
    it(`${name}: says what each of its settings is, and its names are its own`, () => {
      const names = [
        ...each.settings.map((spec) => spec.name),
        ...each.signals.map((spec) => spec.name),
        'kind',
      ];
      expect(new Set(names).size).toBe(names.length);
      for (const spec of each.settings) expect(spec.what).toMatch(/^[A-Z].*\.$/);
      expect(each.kind).toBe(name);
      const shape = { dimension: length };
      expect(each.rawColumns(shape).map((column) => column.name)).toContain(each.mainColumn);
      expect(each.physicalColumns(shape).length).toBeGreaterThan(0);
    });
  }
});
