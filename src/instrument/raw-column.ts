import { fail, type Outcome, problem, succeed } from '../problem/index.ts';
import type { Readings } from './instrument-kind.ts';

/** The raw columns of these names, all of one length, or a problem that says which is not there. */
export function takeColumns(readings: Readings, names: readonly string[]): Outcome<readonly Float64Array[]> {
  const place = { step: `readings of ${readings.instrument}` };
  const found: Float64Array[] = [];
  for (const name of names) {
    const column = readings.columns.find((candidate) => candidate.name === name);
    if (column === undefined) {
      const present = readings.columns.map((candidate) => `"${candidate.name}"`).join(', ');
      return fail(
        problem(
          'missing-column',
          place,
          `the column "${name}" is not there; ${present === '' ? 'there are none' : `there is ${present}`}.`,
        ),
      );
    }
    if (found.length > 0 && found[0].length !== column.values.length) {
      const message = `the column "${names[0]}" has ${found[0].length} rows and "${name}" has ${column.values.length}; they must have equally many.`;
      return fail(problem('unequal-columns', place, message));
    }
    found.push(column.values);
  }
  return succeed(found);
}
