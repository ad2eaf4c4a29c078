import type { RowStep } from '../engine/index.ts';
import type { InstrumentAtHand } from './step.ts';

/**
 * The physical columns of an instrument where the batch engine has its readings.
 *
 * @param names for the first of them; the others get names of their own
 * @returns null where the instrument has no such form
 */
export function readingsOnRows(
  { name, instrument }: { readonly name: string; readonly instrument: InstrumentAtHand },
  names: readonly string[],
): readonly RowStep[] | null {
  const { kind, settingTrees, shape } = instrument;
  if (kind.onLanes === undefined || settingTrees === undefined) return null;
  const all = kind.physicalColumns(shape).map((column, i) => names[i] ?? `${column.name} of ${name}`);
  // No symbol of a lab is like it, and no other step gives these names.
  const series = `readings of ${name} for ${names.join(', ')}`;
  const physical = kind.onLanes.physical(settingTrees, series, all);
  return physical === null ? null : [{ kind: 'series', name: series, of: name }, ...physical];
}

/** What a prepared step says of its form on rows, if it has one. */
export function onRowsIfAny(steps: readonly RowStep[] | null): { readonly onRows?: readonly RowStep[] } {
  return steps === null ? {} : { onRows: steps };
}
