import { baseQuantitiesBehind, type Lab } from '../lab/index.ts';
import { type DrawnFunction, drawFunction } from './draw-function.ts';
import type { LabEffectModel } from './lab-model.ts';
import type { EvaluateMany } from './response.ts';

/** Draws the measured outputs; gives back what it found before where nothing that the reduction reads has changed. */
export type DrawMeasured = (deviations: Float64Array) => DrawnFunction | null;

/** Keeps the last draws of the measured outputs: most sliders move what no reduction reads. */
export function createDrawMeasured(
  readByReduction: ReadonlySet<number>,
  outputs: number,
): (model: LabEffectModel, measure: EvaluateMany | null, key: string) => DrawMeasured {
  let last: { readonly key: string; readonly rows: number; readonly found: DrawnFunction } | null = null;
  return (model, measure, key) => (deviations) => {
    if (measure === null) return null;
    if (last?.key === key && last.rows === deviations.length) return last.found;
    const isInert = (input: number): boolean => !readByReduction.has(model.uncertain[input] ?? -1);
    const found = drawFunction(measure, model.nominal, model.uncertainties, outputs, isInert, deviations);
    last = { key, rows: deviations.length, found };
    return found;
  };
}

/** Base quantities that any step or instrument of the reduction reads: only they can move a measured value. */
export function quantitiesOfReduction(lab: Lab): ReadonlySet<number> {
  const names = [
    ...lab.instruments.flatMap((instrument) => [...instrument.quantitiesRead]),
    ...lab.eachRun.quantitiesRead,
    ...lab.acrossRuns.quantitiesRead,
    ...(lab.acrossRuns.steps.length === 0 ? [] : lab.varied.map(({ name }) => name)),
  ];
  return baseQuantitiesBehind(names, lab.quantities);
}
