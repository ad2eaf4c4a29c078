import { describe, expect, it } from 'vitest';
import { reconcile } from '../../src/reconcile/index.ts';
import { pipelineFrom } from '../lab/slope-lab.ts';
import { must } from '../labs/shipped-lab.ts';

/** A parabola whose top, 1 m, is 3.7 ms from the nearest sample: the largest reading is 13.69 µm too low. */
const topLab = (u: string): string => `benchwright: 1
title: A top between two samples
quantities:
  one: { value: 1 m, u: ${u} }
  s:   { value: 1 s }
where:
  y: one*(1 - ((T - 0.5037*s)/s)^2)
model:
  start: { T: 0 s }
  rates: { T: 1 }
  lasts: 1 s
instruments:
  eye: { kind: sampled, of: y, rate: 100 Hz }
reduction:
  each run:
    - readings: { of: eye, gives: [t, y_r] }
    - peak: { of: y_r, gives: top }
results: { top: { unit: mm } }
`;

function linesWith(u: string): readonly { readonly step: string; readonly shift: number }[] {
  const [ledger] = must(reconcile(pipelineFrom(topLab(u)), [], { draws: 200 })).ledgers;
  return ledger.reduction;
}

describe('a step of the reduction has a line of its own in the ledger', () => {
  it('where its shift is above a tenth of the uncertainty', () => {
    const lines = linesWith('0.13 mm');
    expect(lines.map(({ step }) => step)).toEqual(['peak of y_r']);
    expect(lines[0]?.shift).toBeCloseTo(-(0.0037 ** 2), 10);
  });

  it('and none where it is below', () => {
    expect(linesWith('0.145 mm')).toEqual([]);
  });
});
