import { describe, expect, it } from 'vitest';
import published from '../published/nonstiff-initial-value-problems.json' with { type: 'json' };
import { largestDifference, type PublishedProblem, solve } from './published-problem.ts';

// Source of every problem: its "source" in the file; end values to 20 digits as "obtained" says there.

interface Entry {
  readonly id: string;
  readonly equations: readonly string[];
  readonly y0: readonly string[];
  readonly t1: number | string;
  readonly end: readonly string[];
}

function problemOf(entry: Entry): PublishedProblem {
  return {
    equations: entry.equations,
    start: entry.y0.map(Number),
    endS: Number(entry.t1),
    // The mass ratio of the Arenstorf orbit, from the note in the file.
    constants: { mu: 0.012277471 },
  };
}

const entries: readonly Entry[] = published.problems;

describe('published non-stiff problems', () => {
  // The orbits and the three bodies magnify what is left of the error: their own bounds.
  const amplification: Readonly<Record<string, number>> = { Arenstorf: 2e5, D5: 1e3, D3: 100 };

  it.each(entries.map((entry) => [entry.id, entry] as const))(
    'problem %s ends within 1e-11 of its published value, as tolerance and amplification allow',
    (id, entry) => {
      const { end, motion } = solve(problemOf(entry), { relativeTolerance: 1e-13, absoluteTolerance: 1e-15 });
      expect(largestDifference(end, entry.end.map(Number))).toBeLessThan(1e-11 * (amplification[id] ?? 1));
      expect(motion.steps.method).toHaveLength(1);
    },
  );

  it.each(['A4', 'B1', 'B5', 'C3', 'D1', 'E2', 'Brusselator'])(
    'problem %s: a tolerance a thousand times smaller makes the error at least thirty times smaller',
    (id) => {
      const entry = entries.find((candidate) => candidate.id === id);
      if (entry === undefined) throw new Error(`The file has no problem ${id}.`);
      const errorAt = (relativeTolerance: number): number =>
        largestDifference(solve(problemOf(entry), { relativeTolerance }).end, entry.end.map(Number));
      expect(errorAt(1e-9)).toBeLessThan(errorAt(1e-6) / 30);
      expect(errorAt(1e-9)).toBeLessThan(1e-6);
    },
  );
});
