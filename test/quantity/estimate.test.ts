import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  combineUncertainties,
  exactly,
  fromObservations,
  withExpanded,
  withinLimits,
  withReading,
  withStandardUncertainty,
} from '../../src/quantity/index.ts';
import { relativeDifference, sentencesOf, valueFrom } from './support.ts';

describe('estimates, JCGM 100:2008', () => {
  it('limits of ±a give a/√3, a rectangular distribution (4.3.7)', () => {
    const length = withinLimits(1.2, 0.002);
    expect(length).toEqual({
      value: 1.2,
      standardUncertainty: 0.002 / Math.sqrt(3),
      degreesOfFreedom: Infinity,
      distribution: 'rectangular',
      halfWidth: 0.002,
    });
  });

  it('limits for the expansion of copper, 0.40e-6 1/°C, give 0.23e-6 1/°C (example of 4.3.7)', () => {
    expect(withinLimits(16.52e-6, 0.4e-6).standardUncertainty.toExponential(1)).toBe('2.3e-7');
  });

  it('one step of a display gives 0.29 of the step (F.2.2.1)', () => {
    const mass = withReading(0.0964, 1e-4);
    expect(mass.standardUncertainty / 1e-4).toBeCloseTo(0.2887, 4);
    expect(mass.halfWidth).toBe(5e-5);
  });

  it('240 µg with k = 3 is 80 µg (example of 4.3.3)', () => {
    expect(withExpanded(1.000000325, 240e-9, 3).standardUncertainty).toBeCloseTo(80e-9, 20);
    expect(withExpanded(1, 2, 2)).toMatchObject({ distribution: 'normal', degreesOfFreedom: Infinity });
  });

  it('five voltages have the mean 4.9990 V with 0.0032 V, four degrees of freedom (H.2, Table H.2)', () => {
    const voltage = valueFrom(fromObservations([5.007, 4.994, 5.005, 4.99, 4.999]));
    expect(voltage.value).toBeCloseTo(4.999, 12);
    expect(voltage.standardUncertainty).toBeCloseTo(0.0032093613071761794, 12);
    expect(voltage).toMatchObject({ degreesOfFreedom: 4, distribution: 't' });
  });

  it('5.8 nm, 3.9 nm and 6.7 nm combine to 9.7 nm with 25.6 degrees of freedom (H.1, recomputed from the rounded parts)', () => {
    const difference = combineUncertainties(215, [
      withStandardUncertainty(0, 13 / Math.sqrt(5), 24),
      withStandardUncertainty(0, 10 / 2.57, 5),
      withStandardUncertainty(0, 20 / 3, 8),
    ]);
    expect(difference.value).toBe(215);
    expect(difference.standardUncertainty).toBeCloseTo(9.7, 1);
    expect(difference.degreesOfFreedom).toBeCloseTo(25.6, 0);
    expect(difference.distribution).toBe('t');
  });

  it('degrees of freedom stated make it Student t, not stated normal', () => {
    expect(withStandardUncertainty(1, 0.1, 9).distribution).toBe('t');
    expect(withStandardUncertainty(1, 0.1).distribution).toBe('normal');
  });

  it('exact is not the same as an uncertainty of 0', () => {
    expect(exactly(2).distribution).toBe('exact');
    expect(withStandardUncertainty(2, 0).distribution).toBe('normal');
  });
});

describe('what cannot be an estimate', () => {
  it('one observation has no scatter', () => {
    expect(sentencesOf(fromObservations([1.2]))).toEqual([
      'Only one observation is given; a scatter needs at least 2. Give more observations, or a value with u, within or reading.',
    ]);
    expect(sentencesOf(fromObservations([]))[0]).toContain('No observation is given');
  });

  it('an observation that is not a number is named by its position', () => {
    expect(sentencesOf(fromObservations([1, 2, Number.NaN]))).toEqual([
      'Observation 3 of 3 is NaN; an observation is a finite number.',
    ]);
  });

  it('a negative uncertainty is a mistake of the caller', () => {
    expect(() => withStandardUncertainty(1, -0.1)).toThrow(RangeError);
    expect(() => withStandardUncertainty(1, 0.1, 0)).toThrow(RangeError);
    expect(() => withinLimits(1, Number.NaN)).toThrow(RangeError);
    expect(() => withReading(1, -1)).toThrow(RangeError);
    expect(() => withExpanded(1, 1, 0)).toThrow(RangeError);
    expect(() => exactly(Infinity)).toThrow(RangeError);
  });
});

const part = fc
  .tuple(fc.double({ min: 1e-6, max: 1e6, noNaN: true }), fc.constantFrom(1, 3, 9, 50, Infinity))
  .map(([u, dof]) => withStandardUncertainty(0, u, dof));

describe('laws of estimates', () => {
  it('the order of the parts does not matter, and the whole is at least the largest part', () => {
    fc.assert(
      fc.property(fc.array(part, { minLength: 1, maxLength: 6 }), (parts) => {
        const whole = combineUncertainties(7, parts);
        const reversed = combineUncertainties(7, parts.toReversed());
        expect(relativeDifference(whole.standardUncertainty, reversed.standardUncertainty)).toBeLessThan(
          1e-14,
        );
        expect(whole.standardUncertainty).toBeGreaterThanOrEqual(
          Math.max(...parts.map((each) => each.standardUncertainty)) * (1 - 1e-15),
        );
      }),
      { seed: 11 },
    );
  });

  it('effective degrees of freedom lie between the smallest and the sum (JCGM 100, G.4.1)', () => {
    fc.assert(
      fc.property(fc.array(part, { minLength: 2, maxLength: 6 }), (parts) => {
        const dof = parts.map((each) => each.degreesOfFreedom);
        const whole = combineUncertainties(0, parts);
        expect(whole.degreesOfFreedom).toBeGreaterThanOrEqual(Math.min(...dof) * (1 - 1e-12));
        expect(whole.degreesOfFreedom).toBeLessThanOrEqual(
          dof.reduce((sum, each) => sum + each, 0) * (1 + 1e-12),
        );
      }),
      { seed: 12 },
    );
  });

  it('one part keeps its distribution, none makes the value exact', () => {
    expect(combineUncertainties(3, [withinLimits(9, 1)])).toEqual({ ...withinLimits(9, 1), value: 3 });
    expect(combineUncertainties(3, [withinLimits(9, 1), exactly(0)])).toMatchObject({
      distribution: 'rectangular',
    });
    expect(combineUncertainties(3, [])).toEqual(exactly(3));
  });

  it('shifting and scaling the observations shifts and scales the estimate', () => {
    fc.assert(
      fc.property(
        fc.array(fc.integer({ min: -1000, max: 1000 }), { minLength: 2, maxLength: 20 }),
        fc.integer({ min: -1_000_000, max: 1_000_000 }),
        fc.constantFrom(-2, 0.5, 1024),
        (values, shift, scale) => {
          const plain = valueFrom(fromObservations(values));
          const moved = valueFrom(fromObservations(values.map((value) => scale * value + shift)));
          expect(Math.abs(moved.value - (scale * plain.value + shift))).toBeLessThan(1e-8);
          expect(
            Math.abs(moved.standardUncertainty - Math.abs(scale) * plain.standardUncertainty),
          ).toBeLessThan(1e-8);
        },
      ),
      { seed: 13 },
    );
  });

  it('a scatter far from 0 is not lost: 1e9 + {0, 1, 2} has the mean 1e9 + 1 and u = 1/√3', () => {
    const far = valueFrom(fromObservations([1e9, 1e9 + 1, 1e9 + 2]));
    expect(far.value).toBe(1e9 + 1);
    expect(far.standardUncertainty).toBeCloseTo(1 / Math.sqrt(3), 14);
  });
});
