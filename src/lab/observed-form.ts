import { sayDimension } from '../expression/index.ts';
import type { Outcome, Problem } from '../problem/index.ts';
import { fail, problem, succeed } from '../problem/index.ts';
import type { Unit } from '../quantity/index.ts';
import { fromObservations, parseMagnitude, sameDimension } from '../quantity/index.ts';
import { checkSize } from './check-size.ts';
import type { LabDocument, Path } from './document.ts';
import type { WrittenEstimate } from './written-estimate.ts';

/** Reads repeated readings of a quantity: their mean, its standard error, and the unit of the first. */
export function readObserved(
  name: string,
  observed: readonly (string | number)[],
  document: LabDocument,
): Outcome<WrittenEstimate> {
  const values: number[] = [];
  const problems: Problem[] = [];
  let unit: Unit | undefined;
  observed.forEach((written, index) => {
    const path: Path = ['quantities', name, 'observed', index];
    const magnitude = parseMagnitude(String(written), 'point', document.originOf(path));
    if (!magnitude.ok) {
      problems.push(...magnitude.problems);
      return;
    }
    unit ??= magnitude.value.unit;
    if (!sameDimension(unit.dimension, magnitude.value.unit.dimension)) {
      problems.push(
        problem(
          'wrong-dimension',
          document.placeOf(path),
          `Reading ${index + 1} of ${name} ${sayDimension(magnitude.value.unit.dimension)}, the first one ${sayDimension(unit.dimension)}.`,
        ),
      );
    }
    const bad = checkSize(
      magnitude.value.value,
      written,
      `reading ${index + 1} of ${name}`,
      document.placeOf(path),
    );
    if (bad !== null) problems.push(bad);
    values.push(magnitude.value.value);
  });
  if (problems.length > 0) return fail(...problems);
  const estimate = fromObservations(values);
  if (!estimate.ok) {
    const place = document.placeOf(['quantities', name, 'observed']);
    return fail(...estimate.problems.map((found) => ({ ...found, place })));
  }
  if (unit === undefined)
    return fail(
      problem('symbol-without-value', document.placeOf(['quantities', name]), `${name} has no readings.`),
    );
  return succeed({
    estimate: estimate.value,
    eachRun: null,
    unit,
    from: `mean of ${values.length} readings`,
  });
}
