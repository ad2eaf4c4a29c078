import { ExpressionTooLarge } from '../expression/index.ts';
import type { Outcome, Problem } from '../problem/index.ts';
import { fail, problem } from '../problem/index.ts';
import { buildLab } from './build-lab.ts';
import { checkForm } from './check-form.ts';
import { readDocument } from './document.ts';
import type { Lab } from './lab.ts';

/**
 * Reads a lab file and checks all of it: form, symbols, dimensions, model, instruments, reduction, results, trials.
 *
 * @param text the text of lab.yaml
 * @param file its name, for messages
 * @returns the lab with warnings, or every problem found, each at its place
 */
export function readLab(text: string, file: string): Outcome<Lab> {
  const document = readDocument(text, file);
  if (!document.ok) return document;
  const checked = checkForm(document.value);
  const { form } = checked;
  if (form === null) return fail(...checked.problems);
  try {
    const lab = buildLab({ ...checked, form }, document.value, document.warnings);
    return lab.ok ? lab : fail(...[...lab.problems].sort(byPlace));
  } catch (error) {
    if (!(error instanceof ExpressionTooLarge)) throw error;
    return fail(
      ...checked.problems,
      problem(
        'expression-too-large',
        { file },
        'The expressions of this lab grow too large when they are put into one another.',
        'Shorten chains of definitions.',
      ),
    );
  }
}

/** In the order in which they stand in the file. */
function byPlace({ place: a }: Problem, { place: b }: Problem): number {
  return (a.line ?? 0) - (b.line ?? 0) || (a.column ?? 0) - (b.column ?? 0);
}
