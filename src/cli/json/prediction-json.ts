import type { Setting } from '../../lab/index.ts';
import type { Prediction } from '../../run/index.ts';
import type { OpenLab } from '../open-lab.ts';
import { labToJson } from './lab-json.ts';
import { finite, intervalIn, pointIn, settingsToJson } from './values.ts';

/** The document of `predict --json`; docs/json.md says what each key holds. */
export function predictionToJson(
  open: OpenLab,
  prediction: Prediction,
  conditions: { readonly off: readonly string[]; readonly settings: readonly Setting[] },
): Readonly<Record<string, unknown>> {
  const results = prediction.results.map(({ name, unit, predicted }) => [
    name,
    {
      value: pointIn(unit, predicted.value),
      unit: unit.text,
      u: intervalIn(unit, predicted.standardUncertainty),
      si: finite(predicted.value),
    },
  ]);
  const theory = prediction.results.flatMap(({ name, unit, theory: expected }) =>
    expected === null
      ? []
      : [
          [
            name,
            {
              value: pointIn(unit, expected.value),
              unit: unit.text,
              u: intervalIn(unit, expected.standardUncertainty),
              si: finite(expected.value),
            },
          ],
        ],
  );
  const holds = prediction.holds.map(({ name, failsAt }) => [
    name,
    { fails_at: failsAt === null ? null : { t: finite(failsAt.t), ...finiteStates(failsAt.state) } },
  ]);
  return {
    lab: labToJson(open),
    effects_off: conditions.off,
    set: settingsToJson(conditions.settings),
    results: Object.fromEntries(results),
    theory: Object.fromEntries(theory),
    holds: Object.fromEntries(holds),
    ended: prediction.ended === null ? null : { by: prediction.ended.by, t: finite(prediction.ended.t) },
  };
}

function finiteStates(states: ReadonlyMap<string, number>): Readonly<Record<string, number | null>> {
  return Object.fromEntries([...states].map(([name, value]) => [name, finite(value)]));
}
