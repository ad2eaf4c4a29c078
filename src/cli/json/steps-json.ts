import type { Setting } from '../../lab/index.ts';
import type { StepperTable } from '../../run/index.ts';
import type { OpenLab } from '../open-lab.ts';
import type { StepsScale } from '../steps-scale.ts';
import { labToJson } from './lab-json.ts';
import { problemToJson } from './problem-json.ts';
import { intervalIn, pointIn, settingsToJson } from './values.ts';

/** The document of `steps --json`; docs/json.md says what each key holds. */
export function stepsToJson(
  open: OpenLab,
  tables: readonly StepperTable[],
  scale: StepsScale,
  settings: readonly Setting[],
): Readonly<Record<string, unknown>> {
  const results = open.lab.results.filter(({ name }) => tables.some((table) => table.result === name));
  return {
    lab: labToJson(open),
    set: settingsToJson(settings),
    uncertainty_from: scale.from,
    results: Object.fromEntries(
      results.map(({ name, unit }) => {
        const own = tables.filter((table) => table.result === name);
        const u = scale.uncertainties.get(name);
        return [
          name,
          {
            unit: unit.text,
            exact: pointIn(unit, own[0]?.exact ?? Number.NaN),
            u: u === undefined ? null : intervalIn(unit, u),
            steppers: own.map((table) => ({
              stepper: table.stepper,
              largest_good_step_s: table.largestGoodStepS,
              steps: table.rows.map((row) => ({
                step_s: row.stepS,
                value: pointIn(unit, row.value),
                error: intervalIn(unit, row.error),
                problem: row.problem === null ? null : problemToJson(row.problem),
              })),
            })),
          },
        ];
      }),
    ),
  };
}
