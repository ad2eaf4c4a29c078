import { readFile } from 'node:fs/promises';
import { createPipeline, loadTrials, type Pipeline, readLab, type TrialRun } from '../../src/lab/index.ts';
import { formatProblem, type Outcome, succeed } from '../../src/problem/index.ts';

/** The labs that come with the package. */
export const SHIPPED = [
  'tow-chain',
  'draped-chain',
  'falling-chain',
  'long-swing',
  'heavy-wheel',
  'heavy-spring',
  'drawn-cart',
  'paper-cups',
  'loud-tube',
  'leaking-capacitor',
  'tired-cells',
  'rollers',
  'draining-bottle',
  'slowing-glider',
  'cooling-mug',
  'thick-lens',
] as const;

export interface ShippedLab {
  readonly pipeline: Pipeline;
  readonly trials: readonly TrialRun[];
}

/** Reads a shipped lab with its trials; the test fails with the lab's own sentences where it has a problem. */
export async function openShipped(name: (typeof SHIPPED)[number]): Promise<ShippedLab> {
  const folder = new URL(`../../labs/${name}/`, import.meta.url);
  const lab = must(readLab(await readFile(new URL('lab.yaml', folder), 'utf8'), 'lab.yaml'));
  const read = async (file: string) => succeed(new Uint8Array(await readFile(new URL(file, folder))));
  return { pipeline: createPipeline(lab), trials: must(await loadTrials(lab, read)) };
}

/** The value, or an error with the problems' sentences. */
export function must<T>(outcome: Outcome<T>): T {
  if (outcome.ok) return outcome.value;
  throw new Error(outcome.problems.map(formatProblem).join('\n'));
}

/** The author's value of a quantity, computed or given, SI. */
export function valueIn({ lab, values, nominal }: Pipeline, name: string): number {
  const quantity = lab.quantities.byName.get(name);
  if (quantity === undefined) throw new Error(`${name} is no quantity of the lab`);
  return values(nominal)[quantity.index];
}
