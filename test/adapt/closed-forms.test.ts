import { describe, expect, it } from 'vitest';
import {
  createGauge,
  findRoot,
  mapMeasures,
  optimise,
  readCondition,
  readMeasure,
  readVariation,
  solveThreshold,
} from '../../src/adapt/index.ts';
import { readSetting } from '../../src/lab/index.ts';
import { change, pipelineFrom, SLOPE_LAB, valueFrom } from '../lab/slope-lab.ts';

const G = 9.81;
const ALPHA = (6 * Math.PI) / 180;

/** The trolley on a slope without air: a = g·sin(alpha) − F_r/m, exactly. */
const slope = pipelineFrom(change(SLOPE_LAB, ['value: 4e-3 kg/m, u: 1e-3 kg/m', 'value: 1e-30 kg/m']));

function threshold(condition: string, vary: string) {
  return valueFrom(
    solveThreshold(
      createGauge(slope),
      valueFrom(readCondition(slope.lab, condition, '--until')),
      valueFrom(readVariation(slope.lab, vary)),
    ),
  );
}

describe('a threshold with a closed form is met to 1e-6', () => {
  it('the mass from which on rolling resistance takes less than 2 % of the acceleration: F_r/(0.02·g·sin(alpha))', () => {
    const exact = 0.01 / (0.02 * G * Math.sin(ALPHA));
    const { stretches } = threshold('gap(a) < 2 %', 'm=100g..2kg');
    expect(stretches).toHaveLength(1);
    const [stretch] = stretches;
    expect(Math.abs((stretch?.from ?? 0) / exact - 1)).toBeLessThan(1e-6);
    expect(stretch).toMatchObject({ begins: true, ceases: false, to: 2 });
  });

  it('the same in the unit of the result, and for the share of the effect by name', () => {
    const limit = 0.02 * G * Math.sin(ALPHA);
    const exact = 0.01 / limit;
    for (const condition of [
      `gap(a) < ${limit} m/s^2`,
      'share(a, rolling resistance) < 2 %',
      `a > ${0.98 * G * Math.sin(ALPHA)} m/s^2`,
    ]) {
      const [stretch] = threshold(condition, 'm=100g..2kg').stretches;
      expect(Math.abs((stretch?.from ?? 0) / exact - 1)).toBeLessThan(1e-6);
    }
  });

  it('the slope up to which the run lasts more than 1.5 s: sin(alpha) = 2·s/(g·t²) + F_r/(m·g)', () => {
    const exact = Math.asin(2 / (G * 1.5 ** 2) + 0.01 / (0.25 * G));
    const [stretch] = threshold('time > 1.5 s', 'alpha=3degree..9degree').stretches;
    expect(Math.abs((stretch?.to ?? 0) / exact - 1)).toBeLessThan(1e-6);
    expect(stretch).toMatchObject({ begins: false, ceases: true });
  });

  it('of choices, those that meet the condition are named one by one', () => {
    const { stretches } = threshold('gap(a) < 2 %', 'm=100g,250g,500g,1kg');
    expect(stretches.map(({ from }) => from)).toEqual([0.5, 1]);
  });

  it('a condition that is met nowhere, or everywhere, has no end', () => {
    expect(threshold('gap(a) < 0.01 %', 'm=100g..2kg').stretches).toEqual([]);
    expect(threshold('gap(a) < 50 %', 'm=100g..2kg').stretches).toEqual([
      { from: 0.1, to: 2, begins: false, ceases: false },
    ]);
  });
});

describe('the search for a change of sign', () => {
  it('finds roots of textbook functions to the tolerance, jumps too', () => {
    const cases: readonly (readonly [(x: number) => number, number, number, number])[] = [
      [(x) => Math.cos(x) - x, 0, 1, 0.7390851332151607],
      [(x) => x ** 9, -1, 1.5, 0],
      [(x) => (x < Math.PI ? -1 : 1), 0, 10, Math.PI],
      [(x) => Math.exp(-x) - 0.5, 0, 50, Math.LN2],
    ];
    for (const [f, from, to, exact] of cases) {
      const root = findRoot(f, from, to, f(from), f(to), 1e-10);
      // x⁹ is below the smallest number that can be told from 0 for |x| < 1e-35 only; the interval decides.
      expect(Math.abs(root.at - exact)).toBeLessThan(2e-10);
      expect(root.evaluations).toBeLessThan(45);
    }
  });
});

/** Full and ideal differ by theory times (a − 2)² + (b − 3)² + 0.01, so the least gap is known. */
const BOWL = `benchwright: 1
title: A bowl
quantities:
  p: { value: 5 m }
  a: { value: 1 }
  b: { value: 1 }
  n: { value: 1 }
  e: { is: how much the bowl counts, value: 1 }
  both: { equals: a + b }
effects:
  bowl: { off: { e: 0 } }
model:
  relation: y = p*(1 + n*e*((a - 2)^2 + (b - 3)^2 + 0.01))
  over: { x: [1 m, 2 m] }
instruments:
  rule: { kind: ruler, of: y, division: 1 mm }
reduction:
  each run:
    - readings: { of: rule, gives: [x_r, y_r] }
    - mean: { of: y_r, gives: r }
results:
  r: { unit: m, theory: p }
`;
const bowl = pipelineFrom(BOWL);

function best(conditions: readonly string[], vary: readonly string[]) {
  const { lab } = bowl;
  const aim = { measure: valueFrom(readMeasure(lab, 'gap(r)', 'test')), sense: 'least' } as const;
  return valueFrom(
    optimise(
      createGauge(bowl),
      aim,
      conditions.map((text) => valueFrom(readCondition(lab, text, '--within'))),
      vary.map((text) => valueFrom(readVariation(lab, text))),
    ),
  );
}

describe('an optimum with a closed form is met to 1e-6', () => {
  it('inside the ranges', () => {
    const { value, settings, atEnd } = best([], ['a=0..5', 'b=0..5']);
    expect(Math.abs(value - 0.01)).toBeLessThan(1e-6);
    expect(settings.map((setting) => setting.value)).toEqual([expect.closeTo(2, 5), expect.closeTo(3, 5)]);
    expect(atEnd).toEqual([]);
  });

  it('at a slanting limit: the foot of the perpendicular on a + b = 4 is (1.5, 2.5)', () => {
    const { value, settings } = best(['both < 4'], ['a=0..5', 'b=0..5']);
    expect(Math.abs(value - 0.51)).toBeLessThan(1e-6);
    expect(settings[0]?.value).toBeCloseTo(1.5, 2);
  });

  it('at an end of a range, which is said', () => {
    const { value, atEnd } = best([], ['a=0..5', 'b=0..2']);
    expect(Math.abs(value - 1.01)).toBeLessThan(1e-6);
    expect(atEnd).toEqual(['b']);
  });

  it('over lists and ranges together, every combination of the lists gone through', () => {
    const { value, settings, method, runnersUp } = best(['both < 4'], ['n=3,1,2', 'a=0..5', 'b=0,1,2']);
    // Of b = 2 the limit is a < 2: the gap there is 1·(0 + 1 + 0.01).
    expect(Math.abs(value - 1.01)).toBeLessThan(1e-6);
    expect(new Map(settings.map(({ quantity, value: at }) => [quantity.name, at])).get('n')).toBe(1);
    expect(method.combinations).toBe(9);
    expect(runnersUp.length).toBeGreaterThan(0);
  });

  it('conditions that no choice meets are named', () => {
    const aim = { measure: valueFrom(readMeasure(bowl.lab, 'gap(r)', 'test')), sense: 'least' } as const;
    const conditions = [valueFrom(readCondition(bowl.lab, 'both < 1', '--within'))];
    const vary = [valueFrom(readVariation(bowl.lab, 'a=2..5'))];
    const found = optimise(createGauge(bowl), aim, conditions, vary);
    expect(found.ok ? [] : found.problems.map(({ message }) => message)).toEqual([
      'None of the 9 choices that were looked at meets both < 1.',
    ]);
  });
});

describe('a map', () => {
  it('holds the closed form of the gap at every place, and the shares add up', () => {
    const { lab } = slope;
    const measures = ['gap(a)', 'share(a, rolling resistance)', 'share(a, air)'].map((text) =>
      valueFrom(readMeasure(lab, text, 'test')),
    );
    const vary = ['m=100g,250g,1kg', 'alpha=4degree..10degree'].map((text) =>
      valueFrom(readVariation(lab, text)),
    );
    const map = valueFrom(mapMeasures(createGauge(slope), measures, vary, [], { places: 3 }));
    const [gap, rolling, air] = map.values;
    let index = 0;
    for (const m of map.places[0] ?? []) {
      for (const alpha of map.places[1] ?? []) {
        const exact = 0.01 / (m * G * Math.sin(alpha));
        expect(gap[index]).toBeCloseTo(exact, 9);
        expect(rolling[index] + air[index]).toBeCloseTo(gap[index], 9);
        index += 1;
      }
    }
    expect(index).toBe(9);
  });

  it('takes settings that hold throughout', () => {
    const { lab } = slope;
    const place = { step: 'test' };
    const origin = { placeAt: () => place };
    const fixed = valueFrom(readSetting('F_r', '20 mN', lab.quantities, place, origin, 'set'));
    const gap = valueFrom(readMeasure(lab, 'gap(a)', 'test'));
    const vary = valueFrom(readVariation(lab, 'm=250g'));
    const map = valueFrom(mapMeasures(createGauge(slope), [gap], [vary], [fixed]));
    expect(map.values[0]?.[0]).toBeCloseTo(0.02 / (0.25 * G * Math.sin(ALPHA)), 9);
  });
});
