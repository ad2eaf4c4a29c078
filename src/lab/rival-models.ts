import type { Outcome, Problem } from '../problem/index.ts';
import { fail, problem, succeed } from '../problem/index.ts';
import type { LabDocument, Path } from './document.ts';
import type { LabForm } from './form.ts';
import type { RivalModel } from './lab.ts';
import { baseQuantitiesBehind } from './quantity-function.ts';
import type { Quantities, Quantity } from './quantity-section.ts';
import type { Reduction } from './reduction-section.ts';
import { readStatedSettings } from './stated-settings.ts';

/**
 * Reads the models that the trials choose among.
 *
 * All must be told of the same measured numbers and at the same settings; so none may set what the steps of `each run`
 * read, nor what differs from setting to setting.
 */
export function readRivals(
  { infer }: LabForm,
  quantities: Quantities,
  reduction: Reduction,
  varied: readonly Quantity[],
  document: LabDocument,
): Outcome<readonly RivalModel[]> {
  const forms = Object.entries(infer?.models ?? {});
  const problems: Problem[] = [];
  if (forms.length === 1) {
    problems.push(
      problem(
        'single-model',
        document.placeOfKey(['infer', 'models']),
        'There is one model, which has nothing to be weighed against.',
        'Name a second one, such as that of the lab as it stands: "as it stands: {}".',
      ),
    );
  }
  const read = baseQuantitiesBehind(reduction.eachRun.quantitiesRead, quantities);
  const models = forms.flatMap(([name, form]): RivalModel[] => {
    const path: Path = ['infer', 'models', name, 'set'];
    const set = readStatedSettings(form.set ?? {}, path, quantities, document);
    if (!set.ok) {
      problems.push(...set.problems);
      return [];
    }
    for (const { quantity } of set.value) {
      const why = read.has(quantity.index)
        ? 'is what the steps of "each run" reckon with, so the models would not be told of the same numbers'
        : varied.includes(quantity)
          ? 'differs from setting to setting'
          : null;
      if (why === null) continue;
      const place = document.placeOfKey([...path, quantity.name]);
      problems.push(
        problem('model-sets-measurement', place, `The model "${name}" sets ${quantity.name}, which ${why}.`),
      );
    }
    return [{ name, is: form.is ?? '', set: set.value }];
  });
  return problems.length > 0 ? fail(...problems) : succeed(models);
}
