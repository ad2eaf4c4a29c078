import { fail, nearestName, type Outcome, type Problem, problem, succeed } from '../problem/index.ts';
import type { LabDocument, Path } from './document.ts';
import type { LabForm, ReductionChangeForm } from './form.ts';
import type { MovedPart } from './overlay-document.ts';

type Forms = Pick<LabForm, 'instruments' | 'reduction'>;
type InstrumentForms = NonNullable<LabForm['instruments']>;
type ReductionForm = NonNullable<LabForm['reduction']>;
type StepForm = Readonly<Record<string, Readonly<Record<string, unknown>>>>;
type InstrumentChanges = Readonly<Record<string, Readonly<Record<string, unknown>>>>;

/** Changes of instruments and steps, as a kit or a slip has them. */
export interface WrittenChange {
  readonly instruments?: InstrumentChanges | undefined;
  readonly reduction?: ReductionChangeForm | undefined;
}

/** The forms with the changes in place, and where each changed part was written. */
export interface ChangedForms {
  readonly forms: Forms;
  readonly moved: readonly MovedPart[];
}

/**
 * Puts changes into the forms of instruments and steps.
 *
 * Settings of an instrument of the same kind are changed one by one; another kind replaces it whole. A list of steps
 * replaces the lab's own; a map changes settings of single steps, and leaves out those that it sets to nothing.
 *
 * @param path where the changes stand in the document
 */
export function changeForms(
  forms: Forms,
  change: WrittenChange,
  path: Path,
  document: LabDocument,
): Outcome<ChangedForms> {
  const instruments = changeInstruments(forms.instruments ?? {}, change.instruments ?? {}, path, document);
  const reduction = changeReduction(forms.reduction ?? {}, change.reduction ?? {}, path, document);
  if (!instruments.ok || !reduction.ok)
    return fail(...(instruments.ok ? [] : instruments.problems), ...(reduction.ok ? [] : reduction.problems));
  return succeed({
    forms: { instruments: instruments.value.form, reduction: reduction.value.form },
    moved: [...instruments.value.moved, ...reduction.value.moved],
  });
}

function changeInstruments(
  forms: InstrumentForms,
  changes: InstrumentChanges,
  path: Path,
  document: LabDocument,
): Outcome<{ readonly form: InstrumentForms; readonly moved: readonly MovedPart[] }> {
  const problems: Problem[] = [];
  const form: InstrumentForms = { ...forms };
  const moved: MovedPart[] = [];
  for (const [name, change] of Object.entries(changes)) {
    const own = forms[name];
    const from = [...path, 'instruments', name];
    if (own === undefined) {
      problems.push(unknown('unknown-instrument', name, 'an instrument', Object.keys(forms), from, document));
      continue;
    }
    const { kind } = change;
    if (typeof kind === 'string' && kind !== own.kind) {
      form[name] = { ...change, kind };
      moved.push({ at: ['instruments', name], from });
      continue;
    }
    form[name] = { ...own, ...change, kind: own.kind };
    for (const key of Object.keys(change)) {
      moved.push({ at: ['instruments', name, key], from: [...from, key] });
    }
  }
  return problems.length > 0 ? fail(...problems) : succeed({ form, moved });
}

function changeReduction(
  form: ReductionForm,
  change: ReductionChangeForm,
  path: Path,
  document: LabDocument,
): Outcome<{ readonly form: ReductionForm; readonly moved: readonly MovedPart[] }> {
  const problems: Problem[] = [];
  const changed: ReductionForm = { ...form };
  const moved: MovedPart[] = [];
  for (const part of ['each run', 'across runs'] as const) {
    const own = change[part];
    if (own === undefined) continue;
    const from = [...path, 'reduction', part];
    if (Array.isArray(own)) {
      changed[part] = own;
      moved.push({ at: ['reduction', part], from });
      continue;
    }
    const steps = changeSteps(form[part] ?? [], own, part, from, document);
    if (!steps.ok) problems.push(...steps.problems);
    else {
      changed[part] = [...steps.value.steps];
      moved.push(...steps.value.moved);
    }
  }
  return problems.length > 0 ? fail(...problems) : succeed({ form: changed, moved });
}

/** Changes settings of single steps; a step is named as it is, the second of its name 'keep 2'. */
function changeSteps(
  steps: readonly StepForm[],
  changes: Readonly<Record<string, Readonly<Record<string, unknown>> | null>>,
  part: string,
  from: Path,
  document: LabDocument,
): Outcome<{ readonly steps: readonly StepForm[]; readonly moved: readonly MovedPart[] }> {
  const problems: Problem[] = [];
  const names = nameSteps(steps);
  for (const name of Object.keys(changes)) {
    if (names.includes(name)) continue;
    problems.push(unknown('unknown-step', name, `a step of "${part}"`, names, [...from, name], document));
  }
  if (problems.length > 0) return fail(...problems);
  const moved: MovedPart[] = [];
  const kept: StepForm[] = [];
  for (const [index, step] of steps.entries()) {
    const given = names[index] ?? '';
    const change = changes[given];
    if (change === null) continue;
    const own: Path = ['reduction', part, index];
    const place = kept.length;
    const at: Path = ['reduction', part, place];
    if (place !== index) moved.push({ at, from: own });
    if (change === undefined) {
      kept.push(step);
      continue;
    }
    const [name = ''] = Object.keys(step);
    kept.push({ [name]: { ...step[name], ...change } });
    for (const key of Object.keys(change))
      moved.push({ at: [...at, name, key], from: [...from, given, key] });
  }
  return succeed({ steps: kept, moved });
}

/** What each step is called in changes: its name, and from the second of a name on its number too. */
export function nameSteps(steps: readonly StepForm[]): readonly string[] {
  const counts = new Map<string, number>();
  return steps.map((step) => {
    const [name = ''] = Object.keys(step);
    const count = (counts.get(name) ?? 0) + 1;
    counts.set(name, count);
    return count === 1 ? name : `${name} ${count}`;
  });
}

function unknown(
  code: string,
  name: string,
  what: string,
  known: readonly string[],
  path: Path,
  document: LabDocument,
): Problem {
  const near = nearestName(name, known);
  return problem(
    code,
    document.placeOfKey(path),
    `"${name}" is not ${what} of this lab.`,
    near === undefined
      ? `It has ${known.map((own) => `"${own}"`).join(', ') || 'none yet'}.`
      : `Did you mean "${near}"?`,
  );
}
