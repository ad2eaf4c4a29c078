import type { Outcome, Problem } from '../problem/index.ts';
import { fail, problem, succeed } from '../problem/index.ts';
import type { LabDocument } from './document.ts';
import type { LabForm } from './form.ts';
import type { Correlation } from './lab.ts';
import { type Quantities, unknownQuantity } from './quantity-section.ts';

/** Reads correlations between pairs of given quantities. */
export function readCorrelations(
  forms: NonNullable<LabForm['correlations']>,
  quantities: Quantities,
  document: LabDocument,
): Outcome<readonly Correlation[]> {
  const problems: Problem[] = [];
  const correlations: Correlation[] = [];
  forms.forEach(({ between, is }, index) => {
    const indices = between.map((name, position) => {
      const quantity = quantities.byName.get(name);
      const place = document.placeOf(['correlations', index, 'between', position]);
      if (quantity === undefined) problems.push(unknownQuantity(name, quantities, place));
      else if (quantity.kind === 'derived') {
        problems.push(
          problem(
            'computed-quantity',
            place,
            `${name} is computed; a correlation stands between given quantities.`,
          ),
        );
      }
      return quantity?.index ?? 0;
    });
    const [first, second] = indices;
    if (first === undefined || second === undefined) return;
    if (first === second) {
      problems.push(
        problem(
          'correlation-with-itself',
          document.placeOf(['correlations', index]),
          `${between[0]} cannot be correlated with itself.`,
        ),
      );
    }
    correlations.push({ between: [first, second], is });
  });
  return problems.length > 0 ? fail(...problems) : succeed(correlations);
}
