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

/** What the full model gives for a result under some settings, told elsewhere. */
export interface ToldResult {
  readonly result: LabResult;
  readonly settings: readonly Setting[];
  readonly full: PredictedValue;
}

/** Predicts, and remembers what was predicted: plan, stations and kits often ask for the same settings. */
export type Predictor = (settings: readonly Setting[]) => Outcome<Expected>;

/**
 * @param told numbers of the full model that another page of the documents tells too, with the settings that they are
 * for: they are taken as they are, so that no two pages differ by what the draws of an uncertainty leave open
 */
export function createPredictor(pipeline: Pipeline, told: readonly ToldResult[] = []): Predictor {
  const known = new Map<string, Outcome<Expected>>();
  const toldAt = new Map(
    told.map((one) => [`${one.result.name}: ${keyOf(one.settings, pipeline)}`, one.full]),
  );
  return (settings) => {
    const key = keyOf(settings, pipeline);
    const before = known.get(key);
    if (before !== undefined) return before.ok ? succeed({ ...before.value, settings }) : before;
    const expected = expect(pipeline, settings, ({ name }) => toldAt.get(`${name}: ${key}`));
    known.set(key, expected);
    return expected;
  };
}

function expect(
  pipeline: Pipeline,
  settings: readonly Setting[],
  toldOf: (result: LabResult) => PredictedValue | undefined,
): Outcome<Expected> {
  const { lab } = pipeline;
  const predicted = predict(pipeline, { settings, subset: allEffects(lab) });
  if (!predicted.ok) return predicted;
  return succeed({
    settings,
    results: lab.results.flatMap((result): ExpectedResult[] => {
      const found = predicted.value.results.find(({ name }) => name === result.name);
      if (found === undefined) return [];
      return [{ result, full: toldOf(result) ?? found.predicted, theory: found.theory }];
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
