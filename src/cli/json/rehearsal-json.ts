import type { Setting } from '../../lab/index.ts';
import type { Rehearsal } from '../../run/index.ts';
import type { OpenLab } from '../open-lab.ts';
import { labToJson } from './lab-json.ts';
import { finite, intervalIn, pointIn, settingsToJson } from './values.ts';

/** The document of `rehearse --json`; docs/json.md says what each key holds. */
export function rehearsalToJson(
  open: OpenLab,
  rehearsal: Rehearsal,
  options: { readonly seed: number; readonly anyApparatus: boolean; readonly settings: readonly Setting[] },
  folder: { readonly path: string; readonly files: readonly string[] } | null,
): Readonly<Record<string, unknown>> {
  return {
    lab: labToJson(open),
    seed: options.seed,
    any_apparatus: options.anyApparatus,
    set: settingsToJson(options.settings),
    rehearsals: rehearsal.repeats,
    failed: rehearsal.failed,
    runs_per_setting: open.lab.plan.repeats,
    results: rehearsal.outputs.map(({ output, mean, spread, low, high, singleRun, reported }) => {
      const { name, unit } = output.result;
      return {
        name,
        setting: output.group === null ? null : (rehearsal.groups[output.group]?.label ?? null),
        unit: unit.text,
        mean: pointIn(unit, mean),
        spread: intervalIn(unit, spread),
        low: pointIn(unit, low),
        high: pointIn(unit, high),
        single_run_spread: intervalIn(unit, singleRun),
        single_run_u: intervalIn(unit, reported),
        mean_si: finite(mean),
        spread_si: finite(spread),
      };
    }),
    written: folder === null ? null : { folder: folder.path, files: folder.files },
  };
}
