import type { Outcome, Problem } from '../problem/index.ts';
import { fail, nearestName, problem, succeed } from '../problem/index.ts';
import type { LabDocument } from './document.ts';
import type { Effect } from './effect-section.ts';
import type { LabForm } from './form.ts';
import type { InferPlan } from './lab.ts';
import { type Quantities, type Quantity, unknownQuantity } from './quantity-section.ts';
import type { Reduction } from './reduction-section.ts';
import { readRivals } from './rival-models.ts';

/** Free quantities default to those that the effects are about; they are fitted to the results. */
export function readInfer(
  form: LabForm,
  effects: readonly Effect[],
  quantities: Quantities,
  reduction: Reduction,
  varied: readonly Quantity[],
  document: LabDocument,
): Outcome<InferPlan> {
  const problems: Problem[] = [];
  const free = form.infer?.free ?? [
    ...new Set(
      effects.flatMap((effect) =>
        effect.off
          .filter(({ quantity }) => quantity.estimate.standardUncertainty > 0)
          .map(({ quantity }) => quantity.name),
      ),
    ),
  ];
  for (const [index, name] of (form.infer?.free ?? []).entries()) {
    const place = document.placeOf(['infer', 'free', index]);
    const quantity = quantities.byName.get(name);
    if (quantity === undefined) problems.push(unknownQuantity(name, quantities, place));
    else if (quantity.kind === 'derived') {
      problems.push(
        problem(
          'computed-quantity',
          place,
          `${name} is computed and cannot be free; free one of the quantities it is computed from.`,
        ),
      );
    } else if (quantity.estimate.standardUncertainty === 0) {
      problems.push(
        problem(
          'exact-quantity',
          place,
          `${name} states no uncertainty, so nothing says how far the trials may move it.`,
          'Give it "u" or "within".',
        ),
      );
    }
  }
  const known = reduction.eachRun.scalars;
  const using = form.infer?.using ?? Object.keys(form.results ?? {}).filter((name) => known.has(name));
  for (const [index, name] of (form.infer?.using ?? []).entries()) {
    if (known.has(name)) continue;
    const near = nearestName(name, known.keys());
    problems.push(
      problem(
        'result-not-given',
        document.placeOf(['infer', 'using', index]),
        `No step of "each run" gives "${name}".`,
        near === undefined
          ? `They give ${[...known.keys()].join(', ') || 'nothing yet'}.`
          : `Did you mean "${near}"?`,
      ),
    );
  }
  const models = readRivals(form, quantities, reduction, varied, document);
  if (!models.ok) problems.push(...models.problems);
  return !models.ok || problems.length > 0
    ? fail(...problems)
    : succeed({ free, using, models: models.value });
}
