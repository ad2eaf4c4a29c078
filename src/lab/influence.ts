import type { Problem } from '../problem/index.ts';
import { problem, warning } from '../problem/index.ts';
import type { Effect } from './effect-section.ts';
import type { LabInstrument } from './instrument-section.ts';
import type { LabModel } from './model-section.ts';
import { baseQuantitiesBehind } from './quantity-function.ts';
import type { Quantities } from './quantity-section.ts';
import type { Reduction } from './reduction-section.ts';

/**
 * The base quantities on which a result can depend: those that the model, the instruments and the reduction read,
 * directly or through computed quantities and helper expressions.
 *
 * @returns indices of base quantities
 */
export function influentialQuantities(
  model: LabModel,
  instruments: readonly LabInstrument[],
  reduction: Reduction,
  quantities: Quantities,
): ReadonlySet<number> {
  return baseQuantitiesBehind(
    [
      ...(model.kind === 'none' ? [] : model.reads),
      ...instruments.flatMap((instrument) => [...instrument.quantitiesRead]),
      ...reduction.eachRun.quantitiesRead,
      ...reduction.acrossRuns.quantitiesRead,
    ],
    quantities,
  );
}

/** Effects that can change nothing, because no expression reads what they set. */
export function findIdleEffects(
  effects: readonly Effect[],
  influential: ReadonlySet<number>,
  model: LabModel,
): { readonly problems: readonly Problem[]; readonly warnings: readonly Problem[] } {
  const problems: Problem[] = [];
  const warnings: Problem[] = [];
  // Without a model there is nothing yet that could read it.
  if (model.kind === 'none') return { problems, warnings };
  for (const { name, off, place } of effects) {
    const idle = off.filter(({ quantity }) => !influential.has(quantity.index));
    if (idle.length === 0) continue;
    const symbols = idle.map(({ quantity }) => quantity.name).join(' or ');
    if (idle.length === off.length) {
      problems.push(
        problem(
          'effect-changes-nothing',
          place,
          `The effect "${name}" changes nothing: neither the model nor an instrument nor the reduction reads ${symbols}.`,
          `Let the rates, or what an instrument looks at, depend on ${symbols}.`,
        ),
      );
    } else {
      warnings.push(
        warning(
          'setting-changes-nothing',
          place,
          `The effect "${name}" sets ${symbols}, which neither the model nor an instrument nor the reduction reads.`,
        ),
      );
    }
  }
  return { problems, warnings };
}
