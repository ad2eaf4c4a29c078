import { describe, expect, it } from 'vitest';
import published from '../published/initial-value-test-set.json' with { type: 'json' };
import { solve } from './published-problem.ts';

// F. Mazzia, C. Magherini, Test Set for Initial Value Problem Solvers, release 2.4, as the file says.

const problems = new Map(published.problems.map((entry) => [entry.id, entry]));

function worst(id: string, relativeTolerance: number, method: 'automatic' | 'explicit' | 'implicit'): number {
  const entry = problems.get(id);
  if (entry === undefined) throw new Error(`The file has no problem ${id}.`);
  const { equations, y0, t1, end } = entry;
  const options = { method, relativeTolerance, absoluteTolerance: relativeTolerance * 1e-6 };
  const found = solve({ equations, start: y0, endS: t1 }, options);
  return Math.max(...end.map((y, i) => Math.abs((found.end[i] ?? Number.NaN) / y - 1)));
}

describe('the published test set for initial value problems', () => {
  it('Pleiades: seven stars end their dance at the published places and speeds, to 1e-10', () => {
    expect(worst('Pleiades', 1e-13, 'automatic')).toBeLessThan(1e-10);
  });

  it.each(['automatic', 'implicit'] as const)('HIRES by the %s method agrees to 1e-11', (method) => {
    expect(worst('HIRES', 1e-10, method)).toBeLessThan(1e-11);
  });

  it.each(['automatic', 'implicit'] as const)('Oregonator by the %s method agrees to 1e-10', (method) => {
    expect(worst('Oregonator', 1e-10, method)).toBeLessThan(1e-10);
  });

  it.each([
    ['Pleiades', 'automatic', 1e-9, 1e-6],
    ['HIRES', 'automatic', 1e-6, 1e-6],
    ['Oregonator', 'automatic', 1e-6, 1e-6],
  ] as const)('%s: a looser tolerance keeps the error in bounds', (id, method, tolerance, bound) => {
    expect(worst(id, tolerance, method)).toBeLessThan(bound);
  });
});
