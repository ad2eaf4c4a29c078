import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import type { Pipeline, TrialRun } from '../../src/lab/index.ts';
import { reconcile } from '../../src/reconcile/index.ts';
import {
  allEffects,
  gatherOutputs,
  groupRuns,
  listOutputs,
  settleVariation,
  simulateGroups,
} from '../../src/run/index.ts';
import { pipelineFrom } from '../lab/slope-lab.ts';
import { drawTruth, plantTrials } from '../run/plant-trials.ts';
import { must, type SHIPPED } from './shipped-lab.ts';

/** A shipped lab without its effects: they cost most of a ledger's time and say nothing of the measured side. */
function withoutEffects(name: (typeof SHIPPED)[number]): Pipeline {
  const text = readFileSync(new URL(`../../labs/${name}/lab.yaml`, import.meta.url), 'utf8');
  return pipelineFrom(text.replace(/^effects:\n(?:(?: .*)?\n)*/m, '').replace(/^infer:.*\n(?: .*\n)*/m, ''));
}

/** What runs of each group would give on average, without noise. */
function trueResults(
  pipeline: Pipeline,
  trials: readonly TrialRun[],
  truth: Float64Array,
  result: string,
): number[] {
  const { lab } = pipeline;
  const groups = groupRuns(lab, trials);
  const variation = settleVariation(pipeline, groups);
  const runs = must(simulateGroups(pipeline, groups, truth, allEffects(lab), variation));
  const outputs = listOutputs(lab, groups).filter((output) => output.result.name === result);
  const values = new Float64Array(outputs.length);
  const runsOf = (group: number) => groups[group].trials.length;
  must(gatherOutputs(pipeline, groups, outputs, runs, truth, allEffects(lab), runsOf, values));
  return [...values];
}

interface Counts {
  readonly measured: number;
  readonly remainder: number;
  readonly of: number;
}

/** Schools whose apparatus differs from the author's within what is stated, each with the runs of the plan. */
function countCovered(pipeline: Pipeline, result: string, schools: number): Counts {
  const counts = { measured: 0, remainder: 0, of: 0 };
  for (let school = 0; school < schools; school++) {
    const truth = drawTruth(pipeline, 9000 + school);
    let trials: readonly TrialRun[];
    try {
      trials = plantTrials(pipeline, truth, school);
    } catch {
      // A chain that sticks at the start gives no run to any school.
      continue;
    }
    const expected = trueResults(pipeline, trials, truth, result);
    const { ledgers } = must(reconcile(pipeline, trials, { draws: 128, seed: school }));
    const own = ledgers.filter((ledger) => ledger.result.name === result);
    for (const [group, { measured, remainder }] of own.entries()) {
      if (measured === null || remainder === null) throw new Error('nothing was measured');
      const { low, high } = measured.interval ?? { low: Number.NaN, high: Number.NaN };
      counts.of += 1;
      if (low <= expected[group] && expected[group] <= high) counts.measured += 1;
      if (remainder.probability >= 0.05) counts.remainder += 1;
    }
  }
  return counts;
}

/** Many times the schools, for a share that is known to less than a per cent: LONG=20 npx vitest run test/labs/coverage */
const LONG = Number(process.env.LONG ?? 1);

// Groups of one school share its apparatus, so schools count, not groups.
describe('the uncertainties that a shipped lab reports cover, school after school', () => {
  it.each([
    ['tow-chain', 'k2', 24],
    ['tow-chain', 'b', 24],
    ['draped-chain', 'slope', 40],
    ['draped-chain', 'b', 40],
    ['falling-chain', 'peak', 8],
    ['long-swing', 'ratio', 12],
    ['heavy-wheel', 'm_w', 40],
    ['heavy-spring', 'm_0', 20],
    ['drawn-cart', 'm_moved', 40],
    ['drawn-cart', 'a_0', 40],
    ['paper-cups', 'p', 12],
    ['loud-tube', 'c_1', 40],
    ['leaking-capacitor', 'tau', 12],
    ['tired-cells', 'r_b', 40],
    ['tired-cells', 'R_x', 40],
    ['rollers', 'k_m', 40],
    ['draining-bottle', 'q', 20],
    ['draining-bottle', 'p', 20],
    ['slowing-glider', 'p', 16],
    ['slowing-glider', 'k_2', 16],
    ['cooling-mug', 'tau', 12],
    ['cooling-mug', 'k_0', 12],
    ['thick-lens', 'f', 40],
    ['thick-lens', 'f_1', 40],
  ] as const)(
    '%s: %s measured, and the remainder that is judged by it',
    (name, result, schools) => {
      const { measured, remainder, of } = countCovered(withoutEffects(name), result, LONG * schools);
      const error = (share: number) => 3 * Math.sqrt((share * (1 - share)) / (LONG * schools));
      expect(of).toBeGreaterThanOrEqual(0.9 * LONG * schools);
      for (const share of [measured / of, remainder / of]) {
        expect(share).toBeGreaterThanOrEqual(0.93 - error(0.93));
        expect(share).toBeLessThanOrEqual(0.97 + error(0.97));
      }
    },
    240_000,
  );
});
