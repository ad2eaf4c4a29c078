import type { RowStep } from '../engine/index.ts';
import { add, call, choose, divide, multiply, number, subtract, type Tree } from '../expression/index.ts';
import type { LanesSeries } from './instrument-kind.ts';
import { notLarger, smaller } from './row-trees.ts';
import { rowsOfSamples } from './rows-of-samples.ts';
import { type SettingTrees, treeOf, treesOf } from './setting-trees.ts';

export function samplesOnLanes(settings: SettingTrees): LanesSeries {
  return { kind: 'samples', start: treeOf(settings, 'starts', 0), interval: intervalOf(settings) };
}

/** A lag needs the signal between the samples, and the continuous limit the breaks of the motion. */
export function withoutLag(settings: SettingTrees): readonly Tree[] {
  const lag = treeOf(settings, 'lag', 0);
  return [smaller(number(0), intervalOf(settings)), notLarger(lag, number(0)), notLarger(number(0), lag)];
}

/** Time and value of each sample: what the sensor shows, its zero taken off again. */
export function samplesOnRows(
  settings: SettingTrees,
  series: string,
  names: readonly string[],
): readonly RowStep[] {
  const zero = treeOf(settings, 'zero', 0);
  const range = treesOf(settings, 'range');
  return rowsOfSamples(series, names, {
    moment: (row) => add(treeOf(settings, 'starts', 0), multiply(row, intervalOf(settings))),
    shown: (sample) => {
      const raised = add(sample, zero);
      return range === undefined ? raised : call('min', call('max', raised, range[0]), range[1]);
    },
    time: (stamp) => stamp,
    value: (shown) => subtract(shown, zero),
  });
}

function intervalOf(settings: SettingTrees): Tree {
  const rate = treeOf(settings, 'rate', 0);
  return choose(rate, divide(number(1), rate), treeOf(settings, 'interval', 0));
}
