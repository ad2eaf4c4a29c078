import type { Outcome, Problem } from '../problem/index.ts';
import { fail, succeed } from '../problem/index.ts';
import type { LabDocument, Path } from './document.ts';
import { readSetting, type Setting } from './effect-section.ts';
import type { LabForm } from './form.ts';
import type { Plan } from './lab.ts';
import type { Quantities } from './quantity-section.ts';

/** Reads the plan: every combination of the listed settings; without any, one run as given. */
export function readPlan(
  form: LabForm['plan'],
  quantities: Quantities,
  document: LabDocument,
): Outcome<Plan> {
  const problems: Problem[] = [];
  let settings: readonly (readonly Setting[])[] = [[]];
  for (const [name, values] of Object.entries(form?.settings ?? {})) {
    const path: Path = ['plan', 'settings', name];
    const choices = values.flatMap((written, index) => {
      const origin = document.originOf([...path, index]);
      const setting = readSetting(
        name,
        String(written),
        quantities,
        document.placeOfKey(path),
        origin,
        'plan',
      );
      if (!setting.ok) problems.push(...setting.problems);
      return setting.ok ? [setting.value] : [];
    });
    settings = settings.flatMap((before) => choices.map((choice) => [...before, choice]));
  }
  return problems.length > 0 ? fail(...problems) : succeed({ settings, repeats: form?.repeats ?? 1 });
}
