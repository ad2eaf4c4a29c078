import type { RowStep } from '../engine/index.ts';
import { add, divide, multiply, number, type Tree } from '../expression/index.ts';
import type { LanesSeries } from './instrument-kind.ts';
import { notLarger } from './row-trees.ts';
import { rowsOfSamples } from './rows-of-samples.ts';
import { type SettingTrees, treeOf } from './setting-trees.ts';

/** Pictures from the start on, each the mean over the exposure. */
export function framesOnLanes(settings: SettingTrees): LanesSeries {
  return {
    kind: 'samples',
    start: number(0),
    interval: intervalOf(settings),
    over: treeOf(settings, 'exposure', 0),
  };
}

/** The shutter is shut before the next picture begins. */
export function exposureFits(settings: SettingTrees): readonly Tree[] {
  const exposure = treeOf(settings, 'exposure', 0);
  return [notLarger(number(0), exposure), notLarger(exposure, intervalOf(settings))];
}

/** The middle of each exposure, and the place. */
export function framesOnRows(
  settings: SettingTrees,
  series: string,
  names: readonly string[],
): readonly RowStep[] {
  const half = divide(treeOf(settings, 'exposure', 0), number(2));
  return rowsOfSamples(series, names, {
    moment: (row) => multiply(row, intervalOf(settings)),
    shown: (sample) => sample,
    time: (stamp) => add(stamp, half),
    value: (shown) => shown,
  });
}

function intervalOf(settings: SettingTrees): Tree {
  return divide(number(1), treeOf(settings, 'rate', Number.NaN));
}
