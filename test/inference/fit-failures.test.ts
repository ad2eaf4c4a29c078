import { describe, expect, it } from 'vitest';
import {
  type Evaluate,
  type Fit,
  fitLine,
  fitLinear,
  fitNonlinear,
  fitPolynomial,
  meanOf,
  randomSource,
  weightedMeanOf,
} from '../../src/inference/index.ts';
import type { Outcome } from '../../src/problem/index.ts';
import published from '../published/nist-nonlinear.json' with { type: 'json' };
import { modelOf, problemsOf, valueFrom } from './support.ts';

const codesOf = (outcome: Outcome<unknown>) => problemsOf(outcome).map((found) => found.code);
const place = { step: 'line of v² against x², run 4' };

describe('a fit that cannot be done says why', () => {
  it('too few readings', () => {
    const [found] = problemsOf(fitLine([1, 2], [3, 4], { place }));
    expect(found.message).toBe('2 readings are left; a line needs at least 3.');
    expect(found.place).toBe(place);
    expect(codesOf(fitLine([1], [3]))).toContain('too-few-readings');
    expect(codesOf(fitLine([], []))).toContain('too-few-readings');
    expect(codesOf(fitPolynomial([1, 2, 3], [1, 2, 3], 2))).toEqual(['too-few-readings']);
    expect(codesOf(meanOf([4]))).toEqual(['too-few-readings']);
    expect(codesOf(weightedMeanOf([], 1))).toEqual(['too-few-readings']);
  });

  it('with stated uncertainties two readings make a line', () => {
    const fit = valueFrom(fitLine([1, 2], [3, 4], { uy: 0.1 }));
    expect(fit.parameters[1]).toBeCloseTo(1, 14);
    expect(fit.standardUncertainties[1]).toBeCloseTo(0.1 * Math.SQRT2, 14);
    expect(fit.degreesOfFreedom).toBe(0);
  });

  it('readings at one x', () => {
    const [found] = problemsOf(fitLine([2, 2, 2, 2], [1, 2, 3, 4]));
    expect(found.code).toBe('identical-x');
    expect(found.message).toBe('All 4 readings of x are 2; a line needs at least 2 different ones.');
    expect(codesOf(fitPolynomial([1, 1, 2, 2, 1], [1, 2, 3, 4, 5], 2))).toEqual(['identical-x']);
    expect(codesOf(fitLine([0, 0, 0], [1, 2, 3], { throughOrigin: true }))).toEqual(['identical-x']);
    expect(fitLine([2, 2, 2], [4, 4.1, 3.9], { throughOrigin: true }).ok).toBe(true);
  });

  it('missing and infinite values, each by its number', () => {
    const outcome = fitLine([1, Number.NaN, 3, 4], [1, 2, Infinity, 4]);
    expect(problemsOf(outcome).map((found) => found.message)).toEqual([
      'Reading 2 of x is NaN; a fit needs finite numbers.',
      'Reading 3 of y is Infinity; a fit needs finite numbers.',
    ]);
  });

  it('zero, negative and missing uncertainties', () => {
    for (const bad of [0, -1, Number.NaN, Infinity])
      expect(codesOf(fitLine([1, 2, 3], [1, 2, 3], { uy: [1, bad, 1] }))).toEqual(['zero-weight']);
    expect(codesOf(weightedMeanOf([1, 2], [1, 0]))).toEqual(['zero-weight']);
  });

  it('columns made of one another, by their names', () => {
    const x = [1, 2, 3, 4, 5];
    const [found] = problemsOf(
      fitLinear([x, x.map((v) => 2 * v), [1, 1, 1, 1, 1]], [1, 2, 3, 4, 6], {
        names: ['speed', 'twice', 'offset'],
      }),
    );
    expect(found.code).toBe('singular-design');
    expect(found.message).toContain('speed');
    expect(found.message).toContain('twice');
    expect(found.message).not.toContain('offset');
    expect(codesOf(fitLinear([x, [0, 0, 0, 0, 0]], x))).toEqual(['no-influence']);
    expect(codesOf(fitLinear([x, [1, 1, Number.NaN, 1, 1]], x))).toEqual(['not-finite']);
    const alike = problemsOf(fitLinear([x.map(() => 1), x.map(() => 2)], x, { names: ['a', 'b'] }));
    expect(alike[0].message).toContain('every x is alike');
  });
});

describe('a nonlinear fit in trouble', () => {
  const x = Float64Array.from({ length: 20 }, (_, i) => i / 4);
  const random = randomSource(12);
  const y = x.map((value) => 3 * Math.exp(-0.7 * value) + 0.02 * random.normal());
  const decay: Evaluate = (p, values, jacobian) => {
    for (let i = 0; i < x.length; i += 1) {
      const e = Math.exp(-p[1] * x[i]);
      values[i] = p[0] * e;
      if (jacobian) {
        jacobian[0][i] = e;
        jacobian[1][i] = -p[0] * x[i] * e;
      }
    }
  };
  const names = ['height', 'rate'];

  it('a start outside the domain of the model', () => {
    const outcome = fitNonlinear({
      y: [1, 2, 3],
      start: [-1],
      names: ['k'],
      evaluate: (p, values, jacobian) => {
        values.fill(Math.log(p[0]));
        jacobian?.[0].fill(1 / p[0]);
      },
    });
    const [found] = problemsOf(outcome);
    expect(found.code).toBe('outside-domain');
    expect(found.message).toContain('k = -1');
  });

  it('a minimum at a bound: no symmetric uncertainty for it, the others as if it were known', () => {
    const fit = valueFrom(
      fitNonlinear({
        y,
        evaluate: decay,
        start: [1, 1],
        names,
        bounds: [
          [-Infinity, Infinity],
          [0.9, 5],
        ],
      }),
    );
    expect(fit.parameters[1]).toBe(0.9);
    expect(fit.standardUncertainties[1]).toBeNaN();
    expect(fit.warnings.map((found) => found.code)).toEqual(['at-bound']);
    expect(fit.warnings[0].message).toContain('rate ended at its bound 0.9');
    const column = x.map((value) => Math.exp(-0.9 * value));
    const known = valueFrom(fitLinear([column], y));
    expect(fit.parameters[0]).toBeCloseTo(known.parameters[0], 12);
    expect(fit.standardUncertainties[0]).toBeCloseTo(known.standardUncertainties[0], 12);
  });

  it('bounds that do not bind change nothing', () => {
    const free = valueFrom(fitNonlinear({ y, evaluate: decay, start: [1, 1], names }));
    const bound = valueFrom(
      fitNonlinear({
        y,
        evaluate: decay,
        start: [1, 1],
        names,
        bounds: [
          [0, 10],
          [0, 10],
        ],
      }),
    );
    expect(bound.parameters[0]).toBeCloseTo(free.parameters[0], 12);
    expect(bound.standardUncertainties[1]).toBeCloseTo(free.standardUncertainties[1], 12);
    expect(bound.warnings).toEqual([]);
  });

  it('a parameter without influence: infinite uncertainty, the rest stands', () => {
    const fit = valueFrom(
      fitNonlinear({
        y,
        start: [1, 1, 4],
        names: [...names, 'nothing'],
        evaluate: (p, values, jacobian) => {
          decay(p, values, jacobian);
          jacobian?.[2].fill(0);
        },
      }),
    );
    const without = valueFrom(fitNonlinear({ y, start: [1, 1], names, evaluate: decay }));
    expect(fit.parameters[2]).toBe(4);
    expect(fit.standardUncertainties[2]).toBe(Infinity);
    expect(fit.standardUncertainties[1]).toBeCloseTo(without.standardUncertainties[1], 12);
    expect(fit.warnings.map((found) => found.code)).toEqual(['no-influence']);
    expect(fit.warnings[0].message).toContain('nothing');
  });

  it('two parameters that only their product matters of are named', () => {
    const fit = valueFrom(
      fitNonlinear({
        y,
        start: [1, 1, 2],
        names: ['a', 'rate', 'b'],
        evaluate: (p, values, jacobian) => {
          decay(Float64Array.of(p[0] * p[2], p[1]), values, jacobian);
          if (!jacobian) return;
          jacobian[2].set(jacobian[0].map((value) => value * p[0]));
          jacobian[0].set(jacobian[0].map((value) => value * p[2]));
        },
      }),
    );
    expect(fit.parameters[0] * fit.parameters[2]).toBeCloseTo(3, 1);
    expect(fit.warnings.map((found) => found.code)).toContain('no-influence');
  });

  it('that is stopped, or not given enough evaluations, does not pretend', () => {
    expect(codesOf(fitNonlinear({ y, evaluate: decay, start: [1, 1], signal: { aborted: true } }))).toEqual([
      'aborted',
    ]);
    const rosenbrock: Evaluate = (p, values, jacobian) => {
      values[0] = 10 * (p[1] - p[0] * p[0]);
      values[1] = 1 - p[0];
      jacobian?.[0].set([-20 * p[0], -1]);
      jacobian?.[1].set([10, 0]);
    };
    const hurried = fitNonlinear({
      y: [0, 0],
      uy: 1,
      evaluate: rosenbrock,
      start: [-1.2, 1],
      effort: 'single',
      mostEvaluations: 4,
    });
    const settled: Outcome<Fit> = fitNonlinear({ y: [0, 0], uy: 1, evaluate: rosenbrock, start: [-1.2, 1] });
    // Gauss–Newton steps can finish this one by themselves; what must not happen is a wrong value that is called good.
    if (hurried.ok) expect(hurried.value.parameters[0]).toBeCloseTo(1, 10);
    expect(valueFrom(settled).parameters[0]).toBeCloseTo(1, 12);
  });

  it('that did not settle is refused, with the best values met and what to try', () => {
    // NIST MGH10 from its far start, along a single path and in a hurry.
    const set = published.MGH10;
    const parameters = ['b1', 'b2', 'b3'];
    const outcome = fitNonlinear({
      y: set.columns.y,
      evaluate: modelOf(set.model, parameters, new Map([['x', Float64Array.from(set.columns.x)]])),
      start: set.starts[0],
      names: parameters,
      effort: 'single',
      mostEvaluations: 100,
    });
    const [found] = problemsOf(outcome);
    expect(found.code).toBe('not-converged');
    expect(found.message).toMatch(/^The fit did not settle; the best values met are b1 = .*, b2 = .*, b3 = /);
    expect(found.tryThis).toMatch(/^Start from other values/);
  });

  it('exact readings are fitted exactly', () => {
    const exact = x.map((value) => 3 * Math.exp(-0.7 * value));
    const fit = valueFrom(fitNonlinear({ y: exact, evaluate: decay, start: [1, 1] }));
    expect(fit.parameters[0]).toBeCloseTo(3, 13);
    expect(fit.parameters[1]).toBeCloseTo(0.7, 13);
  });
});
