import type { LabResult, Pipeline, Setting } from '../../lab/index.ts';
import { type Outcome, succeed } from '../../problem/index.ts';
import { allEffects, type PredictedValue, predict } from '../../run/index.ts';

/** What one result is expected to be under some settings: by the full model, by the ideal one, by theory. SI. */
export interface ExpectedResult {
  readonly result: LabResult;
  /** With all effects; its uncertainty is what the stated quantities bring, without noise of the instruments. */
  readonly full: PredictedValue;
  readonly theory: PredictedValue | null;
}

/** What is expected under some settings. */
export interface Expected {
  readonly settings: readonly Setting[];
  readonly results: readonly ExpectedResult[];
}

/** Predicts, and remembers what was predicted: plan, stations and kits often ask for the same settings. */
export type Predictor = (settings: readonly Setting[]) => Outcome<Expected>;

export function createPredictor(pipeline: Pipeline): Predictor {
  const known = new Map<string, Outcome<Expected>>();
  return (settings) => {
    const key = keyOf(settings, pipeline);
    const before = known.get(key);
    if (before !== undefined) return before.ok ? succeed({ ...before.value, settings }) : before;
    const expected = expect(pipeline, settings);
    known.set(key, expected);
    return expected;
  };
}

function expect(pipeline: Pipeline, settings: readonly Setting[]): Outcome<Expected> {
  const { lab } = pipeline;
  const predicted = predict(pipeline, { settings, subset: allEffects(lab) });
  if (!predicted.ok) return predicted;
  return succeed({
    settings,
    results: lab.results.flatMap((result): ExpectedResult[] => {
      const found = predicted.value.results.find(({ name }) => name === result.name);
      return found === undefined ? [] : [{ result, full: found.predicted, theory: found.theory }];
    }),
  });
}

/** Settings to the author's own value are none. */
function keyOf(settings: readonly Setting[], { nominal }: Pipeline): string {
  return settings
    .filter(({ quantity, value }) => value !== nominal[quantity.index])
    .map(({ quantity, value }) => `${quantity.index}=${value}`)
    .sort()
    .join(';');
}
