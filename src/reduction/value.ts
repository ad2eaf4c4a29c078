import { fail, problem, succeed } from '../problem/index.ts';
import { inWords, placeOfStep } from './run-place.ts';
import { SettingsReader } from './settings-reader.ts';
import type { ReductionStep } from './step.ts';
import type { StepSettingSpec } from './step-setting-spec.ts';

const NAME = 'value';

const settings: readonly StepSettingSpec[] = [
  { kind: 'scalar expression', name: 'of', what: 'Expression of values and quantities.', required: true },
  { kind: 'new names', name: 'gives', what: 'Name of the new value.', required: true, least: 1, most: 1 },
];

/** One number worked out from those that earlier steps gave, with their covariance where one fit gave them. */
export const value: ReductionStep = {
  name: NAME,
  what: 'One number, worked out from those that earlier steps gave.',
  settings,
  prepare(given, context) {
    const read = new SettingsReader(NAME, settings, given, context);
    const of = read.scalarFormula('of');
    const name = read.newName('gives');
    if (read.hasProblem || of === null || name === null) return fail(...read.problems);
    const words = `${NAME} ${name} of ${inWords(of.text)}`;
    return succeed({
      name: NAME,
      words,
      gives: { columns: [], scalars: [{ name, dimension: of.dimension }] },
      quantitiesRead: of.quantitiesRead,
      readsUncertainties: false,
      onRows: [{ kind: 'scalar', of: of.tree, gives: name }],
      run(state, quantities) {
        const found = of.scalar(state, quantities);
        if (!Number.isFinite(found.value)) {
          const message = `${inWords(of.text)} is ${found.value}; a finite number would be right.`;
          return fail(problem('not-finite', placeOfStep(words, state), message));
        }
        state.scalars.set(name, found);
        return succeed(undefined);
      },
    });
  },
};
