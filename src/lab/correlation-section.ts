import { choleskyFactor, correlationMatrix } from '../inference/index.ts';
import type { Outcome, Place, Problem } from '../problem/index.ts';
import { fail, problem, succeed } from '../problem/index.ts';
import type { LabDocument } from './document.ts';
import type { LabForm } from './form.ts';
import type { Correlation } from './lab.ts';
import { type BaseQuantity, type Quantities, unknownQuantity } from './quantity-section.ts';

/** Reads correlations between pairs of given quantities; together they must be possible at once. */
export function readCorrelations(
  forms: NonNullable<LabForm['correlations']>,
  quantities: Quantities,
  document: LabDocument,
): Outcome<readonly Correlation[]> {
  const problems: Problem[] = [];
  const correlations: Correlation[] = [];
  forms.forEach(({ between, is }, index) => {
    const pair = between.map((name, position) => {
      const place = document.placeOf(['correlations', index, 'between', position]);
      const found = findUncertain(name, quantities, place);
      if (found.ok) return found.value.index;
      problems.push(...found.problems);
      return null;
    });
    const [first, second] = pair;
    if (typeof first !== 'number' || typeof second !== 'number') return;
    const place = document.placeOf(['correlations', index]);
    const isKnown = correlations.some(
      ({ between: other }) => other.includes(first) && other.includes(second),
    );
    if (first === second) {
      const message = `${between[0]} cannot be correlated with itself.`;
      problems.push(problem('correlation-with-itself', place, message));
    } else if (isKnown) {
      const message = `The correlation between ${between.join(' and ')} is given a second time.`;
      problems.push(problem('correlation-twice', place, message));
    } else {
      correlations.push({ between: [first, second], is });
    }
  });
  if (problems.length > 0) return fail(...problems);
  if (arePossible(correlations)) return succeed(correlations);
  return fail(
    problem(
      'impossible-correlations',
      document.placeOfKey(['correlations']),
      'These correlations cannot all be true at once: the matrix of them is not positive semidefinite.',
      'Three quantities cannot each be strongly opposed to both others, for example.',
    ),
  );
}

/** Whether the matrix of all coefficients is positive semidefinite. */
function arePossible(correlations: readonly Correlation[]): boolean {
  const involved = [...new Set(correlations.flatMap(({ between }) => between))];
  const among = correlations.map(({ between: [first, second], is }) => ({
    between: [involved.indexOf(first), involved.indexOf(second)] as const,
    is,
  }));
  const count = involved.length;
  return choleskyFactor(correlationMatrix(count, among), count) !== null;
}

/** The given quantity of a name, if it is uncertain: nothing can be correlated with an exact one. */
function findUncertain(name: string, quantities: Quantities, place: Place): Outcome<BaseQuantity> {
  const quantity = quantities.byName.get(name);
  if (quantity === undefined) return fail(unknownQuantity(name, quantities, place));
  if (quantity.kind === 'derived') {
    const message = `${name} is computed; a correlation stands between given quantities.`;
    return fail(problem('computed-quantity', place, message));
  }
  if (quantity.estimate.standardUncertainty === 0) {
    const message = `${name} states no uncertainty, so it cannot be correlated with another quantity.`;
    return fail(problem('exact-quantity', place, message, 'Give it "u" or "within".'));
  }
  return succeed(quantity);
}
