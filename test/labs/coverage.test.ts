import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { studentQuantile } from '../../src/inference/index.ts';
import type { Pipeline, TrialRun } from '../../src/lab/index.ts';
import { type GapLedger, reconcile } from '../../src/reconcile/index.ts';
import { allEffects, groupRuns, simulateGroups } from '../../src/run/index.ts';
import { pipelineFrom } from '../lab/slope-lab.ts';
import { drawTruth, plantTrials } from '../run/plant-trials.ts';
import { must, type SHIPPED } from './shipped-lab.ts';

/** A shipped lab without its effects: they cost most of a ledger's time and say nothing of the measured side. */
function withoutEffects(name: (typeof SHIPPED)[number]): Pipeline {
  const text = readFileSync(new URL(`../../labs/${name}/lab.yaml`, import.meta.url), 'utf8');
  return pipelineFrom(text.replace(/^effects:\n(?:(?: .*)?\n)*/m, '').replace(/^infer:.*\n/m, ''));
}

/** What a result would be without noise, in each group; averaged over the logger's phase where it samples seldom. */
function trueResults(
  pipeline: Pipeline,
  trials: readonly TrialRun[],
  truth: Float64Array,
  result: string,
): number[] {
  const groups = groupRuns(pipeline.lab, trials);
  const phase = pipeline.lab.quantities.byName.get('t_s')?.index;
  const phases = phase === undefined ? [0] : Array.from({ length: 12 }, (_, k) => ((k + 0.5) / 12) * 2.5e-3);
  const sums = groups.map(() => 0);
  for (const at of phases) {
    const base = Float64Array.from(truth);
    if (phase !== undefined) base[phase] = at;
    for (const { group, scalars } of must(simulateGroups(pipeline, groups, base, allEffects(pipeline.lab)))) {
      sums[group] += (scalars.get(result)?.value ?? Number.NaN) / phases.length;
    }
  }
  return sums;
}

/** Welch–Satterthwaite for a mean of n runs beside what the quantities bring (JCGM 100, G.4.1). */
function degreesOfFreedom({
  n,
  fromScatter,
  standardUncertainty,
}: NonNullable<GapLedger['measured']>): number {
  return (n - 1) * (standardUncertainty / fromScatter) ** 4;
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
      const reach = studentQuantile(0.975, degreesOfFreedom(measured)) * measured.standardUncertainty;
      counts.of += 1;
      if (Math.abs(measured.value - expected[group]) <= reach) counts.measured += 1;
      if (remainder.probability >= 0.05) counts.remainder += 1;
    }
  }
  return counts;
}

describe('the uncertainties that a shipped lab reports cover, school after school', () => {
  // Where limits (rectangular) weigh most the interval holds all of them, so only too little is a defect.
  it.each([
    ['tow-chain', 'k2', 40],
    ['tow-chain', 'b', 40],
    ['draped-chain', 'slope', 90],
    ['falling-chain', 'peak', 60],
    ['long-swing', 'ratio', 30],
  ] as const)('%s: %s measured, and the remainder that is judged by it', (name, result, schools) => {
    const { measured, remainder, of } = countCovered(withoutEffects(name), result, schools);
    const allowed = 0.95 * of - 3 * Math.sqrt(of * 0.95 * 0.05);
    expect(of).toBeGreaterThanOrEqual(0.9 * schools);
    expect(measured).toBeGreaterThanOrEqual(allowed);
    expect(remainder).toBeGreaterThanOrEqual(allowed);
    // A remainder that is always explained would be judged by far too wide an uncertainty.
    expect(remainder).toBeLessThan(of);
  });
});
