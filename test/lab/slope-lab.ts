import { createPipeline, type Lab, type Pipeline, readLab } from '../../src/lab/index.ts';
import { formatProblem, type Outcome, type Problem } from '../../src/problem/index.ts';

/** A small whole lab with something in every section: a trolley let go on a slope, followed by a ranger. */
export const SLOPE_LAB = `benchwright: 1
title: A trolley let go on a slope
quantities:
  g:     { is: local gravity, value: 9.81 m/s^2, u: 0.01 m/s^2 }
  alpha: { is: slope of the track, value: 6 degree, within: 0.1 degree }
  m:     { is: mass of the trolley, value: 250 g, reading: 1 g }
  F_r:   { is: rolling resistance, value: 10 mN, u: 2 mN }
  c:     { is: air resistance over speed squared, value: 4e-3 kg/m, u: 1e-3 kg/m }
  w:     { is: weight of the trolley, equals: m*g, unit: N }
effects:
  rolling resistance: { off: { F_r: 0 N } }
  air: { off: { c: 0 kg/m } }
where:
  pull: w*sin(alpha)
model:
  start: { x: 0 m, v: 0 m/s }
  rates:
    x: v
    v: (pull - dry(F_r, v) - c*v^2)/m
  stops: { the end of the track: x > 1.0 m }
derivation:
  - { line: "v^2 = 2*g*sin(alpha)*x", because: the weight along the slope does work }
instruments:
  ranger: { kind: sampled, of: x, rate: 50 Hz, resolution: 1 mm }
reduction:
  each run:
    - readings: { of: ranger, gives: [t, s] }
    - line: { of: 2*s, against: t^2, slope: a }
results:
  a: { unit: m/s^2, theory: g*sin(alpha) }
plan: { repeats: 3 }
`;

/** The text with each first part replaced by the second; a part that is not there is a mistake of the test. */
export function change(text: string, ...changes: readonly (readonly [string, string])[]): string {
  return changes.reduce((changed, [from, to]) => {
    if (!changed.includes(from)) throw new Error(`the lab has no "${from}"`);
    return changed.replace(from, () => to);
  }, text);
}

export function problemsOf(text: string): readonly Problem[] {
  const lab = readLab(text, 'lab.yaml');
  return lab.ok ? [] : lab.problems;
}

/** What a person reads about a lab file that is not good: one line a problem. */
export function sentencesOn(text: string): string[] {
  return problemsOf(text).map(formatProblem);
}

export function warningsOn(text: string): string[] {
  const lab = readLab(text, 'lab.yaml');
  return lab.ok
    ? lab.warnings.map(formatProblem)
    : [`not read: ${lab.problems.map(formatProblem).join('\n')}`];
}

export function labFrom(text: string): Lab {
  return valueFrom(readLab(text, 'lab.yaml'));
}

export function pipelineFrom(text: string): Pipeline {
  return createPipeline(labFrom(text));
}

export function valueFrom<T>(outcome: Outcome<T>): T {
  if (outcome.ok) return outcome.value;
  throw new Error(outcome.problems.map(formatProblem).join('\n'));
}

export function sentencesOf(outcome: Outcome<unknown>): string[] {
  return outcome.ok ? [] : outcome.problems.map(formatProblem);
}
