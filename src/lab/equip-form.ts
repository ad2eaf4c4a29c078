import { fail, type Outcome, type Problem, succeed } from '../problem/index.ts';
import type { Estimate } from '../quantity/index.ts';
import { changeForms } from './change-forms.ts';
import type { LabDocument } from './document.ts';
import type { LabForm } from './form.ts';
import type { Kit } from './kit-section.ts';
import { type MovedPart, overlayDocument } from './overlay-document.ts';

/** The form of a lab with kits in place of its own equipment. */
export interface EquippedForm {
  readonly form: LabForm;
  readonly document: LabDocument;
  readonly estimates: ReadonlyMap<string, Estimate>;
}

/**
 * Puts kits into a lab's form.
 *
 * The real runs are left out: they were taken with the author's own equipment. What a kit sets, the plan no longer
 * varies.
 */
export function equipForm(form: LabForm, kits: readonly Kit[], document: LabDocument): Outcome<EquippedForm> {
  const problems: Problem[] = [];
  const moved: MovedPart[] = [];
  let forms: Pick<LabForm, 'instruments' | 'reduction'> = form;
  for (const { name, change } of kits) {
    const changed = changeForms(forms, change, ['kits', name], document);
    if (!changed.ok) {
      problems.push(...changed.problems);
      continue;
    }
    forms = changed.value.forms;
    moved.push(...changed.value.moved);
  }
  if (problems.length > 0) return fail(...problems);
  const estimates = new Map(kits.flatMap((kit) => [...kit.estimates]));
  const planned = Object.entries(form.plan?.settings ?? {}).filter(([symbol]) => !estimates.has(symbol));
  const { kits: _kits, trials: _trials, infer: _infer, plan, ...rest } = form;
  return succeed({
    form: {
      ...rest,
      ...forms,
      ...(plan === undefined ? {} : { plan: { ...plan, settings: Object.fromEntries(planned) } }),
    },
    document: overlayDocument(document, moved),
    estimates,
  });
}
