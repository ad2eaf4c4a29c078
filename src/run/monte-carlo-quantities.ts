import { type MonteCarloOutput, propagateMonteCarlo, randomSource } from '../inference/index.ts';
import type { Lab, Quantity } from '../lab/index.ts';
import type { Outcome, Problem } from '../problem/index.ts';
import { succeed } from '../problem/index.ts';
import { USUAL_LEVEL } from './quantity-budget.ts';

/** What random draws of the base quantities say of every quantity. */
export interface MonteCarloStatement {
  readonly quantities: readonly { readonly quantity: Quantity; readonly drawn: MonteCarloOutput }[];
  readonly draws: number;
  /** Whether the numerical tolerance of two significant digits of u was reached. */
  readonly stable: boolean;
  readonly warnings: readonly Problem[];
}

export interface MonteCarloOptions {
  /** A number of draws, or 'adaptive': until two digits of each uncertainty are sure. */
  readonly draws: number | 'adaptive';
  readonly seed?: number;
  readonly level?: number;
  readonly signal?: { readonly aborted: boolean };
}

/**
 * States every quantity of a lab by drawing the base quantities from their distributions.
 *
 * Source: JCGM 101:2008, 7.2 to 7.9
 */
export function drawQuantities(lab: Lab, options: MonteCarloOptions): Outcome<MonteCarloStatement> {
  const { all, base } = lab.quantities;
  const values = new Float64Array(all.length);
  const drawn = propagateMonteCarlo({
    evaluate: (inputs, outputs) => {
      values.set(inputs);
      lab.derive(values);
      outputs.set(values);
    },
    estimates: base.map(({ estimate }) => estimate),
    correlations: lab.correlations,
    random: randomSource(options.seed ?? 1),
    outputs: all.length,
    names: all.map(({ name }) => name),
    draws: options.draws,
    level: options.level ?? USUAL_LEVEL,
    place: { file: lab.file, step: 'quantities' },
    ...(options.signal === undefined ? {} : { signal: options.signal }),
  });
  if (!drawn.ok) return drawn;
  const { outputs, draws, stable, warnings } = drawn.value;
  return succeed({
    quantities: all.flatMap((quantity, index) => {
      const output = outputs[index];
      return output === undefined ? [] : [{ quantity, drawn: output }];
    }),
    draws,
    stable,
    warnings,
  });
}
