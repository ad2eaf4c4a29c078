import type { ClassRehearsal } from '../../classroom/index.ts';
import type { OpenLab } from '../open-lab.ts';
import { labToJson } from './lab-json.ts';
import { finite, intervalIn, pointIn, settingsToJson } from './values.ts';

/** The document of `stations --json`. */
export function stationsToJson(
  open: OpenLab,
  rehearsal: ClassRehearsal,
  asked: { readonly seed: number; readonly subset: 'all effects' | 'no effects' },
  needed: { readonly text: string; readonly groups: number | null } | null,
): Readonly<Record<string, unknown>> {
  return {
    lab: labToJson(open),
    seed: asked.seed,
    effects: asked.subset,
    rehearsals: rehearsal.rehearsals,
    stations: rehearsal.stations.map(({ station, results, failed }) => ({
      name: station.name,
      set: settingsToJson(station.set),
      failed,
      results: results.map(({ result, theory, mean, spread, low, high }) => ({
        name: result.name,
        unit: result.unit.text,
        theory: pointIn(result.unit, theory),
        mean: pointIn(result.unit, mean),
        spread: intervalIn(result.unit, spread),
        low: pointIn(result.unit, low),
        high: pointIn(result.unit, high),
      })),
    })),
    pooled: rehearsal.pooled.map(({ groups, result, theory, mean, spread, low, high, stated, coverage }) => ({
      groups,
      name: result.name,
      unit: result.unit.text,
      theory: pointIn(result.unit, theory),
      mean: pointIn(result.unit, mean),
      spread: intervalIn(result.unit, spread),
      low: pointIn(result.unit, low),
      high: pointIn(result.unit, high),
      stated_u: intervalIn(result.unit, stated),
      coverage: finite(coverage),
    })),
    needed: needed === null ? null : { condition: needed.text, groups: needed.groups },
  };
}
