import { readFileSync } from 'node:fs';
import { createPipeline, loadTrials, readDocument, readLab, type TrialRun } from '../../../src/lab/index.ts';
import type { Outcome } from '../../../src/problem/index.ts';
import { formatProblem, succeed } from '../../../src/problem/index.ts';
import type { PrintSettings } from '../../../src/publish/document/index.ts';
import { type Gathered, type GatherOptions, gather } from '../../../src/publish/gather/index.ts';

export const inEnglish: PrintSettings = {
  language: 'en',
  decimalMark: '.',
  paper: 'a4',
  notation: 'plus-minus',
};

/** The value of an outcome that must not have failed. */
export function take<T>(outcome: Outcome<T>): T {
  if (!outcome.ok) throw new Error(outcome.problems.map(formatProblem).join('\n'));
  return outcome.value;
}

/** Gathers the numbers of a lab that is given as text, without trials. */
export function gatherText(text: string, options: GatherOptions = {}): Gathered {
  const lab = take(readLab(text, 'lab.yaml'));
  return take(gather(createPipeline(lab), take(readDocument(text, 'lab.yaml')), [], options));
}

/** Gathers the numbers of a lab of the gallery, with its trials or without. */
export async function gatherLab(
  name: string,
  options: GatherOptions & { readonly withTrials: boolean },
): Promise<Gathered> {
  const folder = new URL(`../../../labs/${name}/`, import.meta.url);
  const text = readFileSync(new URL('lab.yaml', folder), 'utf8');
  const lab = take(readLab(text, 'lab.yaml'));
  const trials: readonly TrialRun[] = options.withTrials
    ? take(
        await loadTrials(lab, (file) =>
          Promise.resolve(succeed(new Uint8Array(readFileSync(new URL(file, folder))))),
        ),
      )
    : [];
  return take(gather(createPipeline(lab), take(readDocument(text, 'lab.yaml')), trials, options));
}
