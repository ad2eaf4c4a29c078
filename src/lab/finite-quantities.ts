import { namesIn } from '../expression/index.ts';
import type { Problem } from '../problem/index.ts';
import { problem } from '../problem/index.ts';
import type { Lab } from './lab.ts';

/** A problem for each computed quantity that comes out as no finite number at the author's own values. */
export function findInfiniteQuantities(lab: Lab): readonly Problem[] {
  const { quantities } = lab;
  const values = new Float64Array(quantities.all.length);
  for (const { index, estimate } of quantities.base) values[index] = estimate.value;
  lab.derive(values);
  const told = new Set<string>();
  return quantities.derived.flatMap(({ name, index, expression, place }): Problem[] => {
    if (Number.isFinite(values[index])) return [];
    const reads = namesIn(expression.tree);
    const isFollowUp = [...reads].some((read) => told.has(read));
    told.add(name);
    if (isFollowUp) return [];
    const inputs = quantities.all
      .filter((quantity) => reads.has(quantity.name))
      .map((quantity) => `${quantity.name} = ${values[quantity.index]}`);
    const where = inputs.length === 0 ? '' : `, with ${inputs.join(', ')} in SI units`;
    return [
      problem(
        'not-finite',
        expression.origin?.placeAt(0) ?? place,
        `${name} = ${expression.text.trim()} comes out as ${values[index]}, not as a finite number${where}.`,
      ),
    ];
  });
}
