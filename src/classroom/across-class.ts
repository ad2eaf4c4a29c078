import type { LabResult, Pipeline } from '../lab/index.ts';
import { gatherOutputs, listOutputs } from '../run/index.ts';
import type { Bench, GroupResults } from './bench.ts';

/** A number of a fit over all stations, SI; the uncertainty is the fit's own. */
export interface AcrossValue {
  readonly value: number;
  readonly standardUncertainty: number;
}

/**
 * The steps across runs over the runs of all stations, as if one group had taken them all.
 *
 * @param benches one a station
 * @param found   what each station found, in the same order
 * @param subset  effects that are on
 * @returns the results across runs; null where the stations together have too little for the steps
 */
export function acrossClass(
  pipeline: Pipeline,
  benches: readonly Bench[],
  found: readonly GroupResults[],
  subset: number,
): ReadonlyMap<LabResult, AcrossValue> | null {
  const groups = benches.flatMap((bench) => bench.groups);
  let before = 0;
  const runs = benches.flatMap((bench, station) => {
    const first = before;
    before += bench.groups.length;
    return (found[station]?.runs ?? []).map((run) => ({ ...run, group: first + run.group }));
  });
  const outputs = listOutputs(pipeline.lab, groups).filter(({ group }) => group === null);
  const row = new Float64Array(outputs.length);
  const gathered = gatherOutputs(pipeline, groups, outputs, runs, pipeline.nominal, subset, () => 1, row);
  if (!gathered.ok) return null;
  return new Map(
    outputs.map(({ result }, index) => [
      result,
      {
        value: row[index],
        standardUncertainty: gathered.value?.scalars.get(result.name)?.standardUncertainty ?? Number.NaN,
      },
    ]),
  );
}
