import { createEvolver, type EvolutionOptions, type Motion } from '../../src/evolve/index.ts';
import { type ModelTexts, modelOf, unwrap, valuesOf } from './model-from-texts.ts';

/** A problem of the published sets: dimensionless equations in y1, y2, … and t. */
export interface PublishedProblem {
  readonly equations: readonly string[];
  readonly start: readonly number[];
  readonly endS: number;
  readonly constants?: Readonly<Record<string, number>>;
}

/** As a model: the unit of time is put in, so that the dimensions are right. */
function textsOf({ equations, start, endS, constants = {} }: PublishedProblem): ModelTexts {
  const withUnit = (text: string): string => `(${text.replaceAll(/\bt\b/g, '(t/second)')})/second`;
  return {
    parameters: {
      second: [1, 's'],
      duration: [endS, 's'],
      ...Object.fromEntries(Object.entries(constants).map(([name, value]) => [name, [value, '1'] as const])),
      ...Object.fromEntries(start.map((value, i) => [`start${i + 1}`, [value, '1'] as const])),
    },
    states: Object.fromEntries(
      equations.map((text, i) => [`y${i + 1}`, [`start${i + 1}`, withUnit(text)] as const]),
    ),
    lasts: 'duration',
  };
}

export function solve(
  problem: PublishedProblem,
  options: EvolutionOptions,
): { end: Float64Array; motion: Motion } {
  const texts = textsOf(problem);
  const motion = unwrap(createEvolver(modelOf(texts)).run(valuesOf(texts), options));
  const end = new Float64Array(problem.equations.length);
  motion.stateAt(motion.endS, end);
  return { end, motion };
}

/** Largest difference, relative to the largest of 1 and the published value's size where `relativeTo1`. */
export function largestDifference(found: Float64Array, published: readonly number[]): number {
  return Math.max(...published.map((value, i) => Math.abs(found[i] - value) / Math.max(1, Math.abs(value))));
}
