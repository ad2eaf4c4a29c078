import type { RowStep } from '../engine/index.ts';
import { add, divide, multiply, number, type Tree } from '../expression/index.ts';
import type { LanesNumbers } from './instrument-kind.ts';
import { notLarger, smaller } from './row-trees.ts';
import { rowsOfSamples } from './rows-of-samples.ts';
import { type SettingTrees, treeOf } from './setting-trees.ts';

/** Pictures from the start on, each the mean over the exposure, which ends before the next begins. */
export function framesOnLanes(settings: SettingTrees): LanesNumbers {
  const exposure = treeOf(settings, 'exposure', 0);
  const interval = intervalOf(settings);
  return {
    numbers: [number(0), interval],
    over: exposure,
    among: [smaller(number(0), interval), notLarger(number(0), exposure), notLarger(exposure, interval)],
  };
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
