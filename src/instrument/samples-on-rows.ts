import type { RowStep } from '../engine/index.ts';
import { add, call, choose, divide, multiply, number, subtract, type Tree } from '../expression/index.ts';
import type { LanesNumbers } from './instrument-kind.ts';
import { nameOf, notLarger, smaller } from './row-trees.ts';
import { type SettingTrees, treeOf, treesOf } from './setting-trees.ts';

/** Start and interval; a lag needs the signal between the samples, and the continuous limit the breaks of the motion. */
export function samplesOnLanes(settings: SettingTrees): LanesNumbers {
  const interval = intervalOf(settings);
  const lag = treeOf(settings, 'lag', 0);
  return {
    numbers: [treeOf(settings, 'starts', 0), interval],
    among: [smaller(number(0), interval), notLarger(lag, number(0)), notLarger(number(0), lag)],
  };
}

/** Time and value of each sample: what the sensor shows, its zero taken off again. */
export function samplesOnRows(
  settings: SettingTrees,
  series: string,
  [time, value]: readonly string[],
): readonly RowStep[] | null {
  const row = `${series}, row`;
  const zero = treeOf(settings, 'zero', 0);
  const range = treesOf(settings, 'range');
  const [real, stamps, before] = ['real', 'stamps', 'the row before'].map((what) => `${series}, ${what}`);
  let shown = add(nameOf(series), zero);
  if (range !== undefined) shown = call('min', call('max', shown, range[0]), range[1]);
  const moment = add(treeOf(settings, 'starts', 0), multiply(nameOf(row), intervalOf(settings)));
  const isSound = (name: string): Tree =>
    smaller(call('abs', nameOf(name)), number(Number.POSITIVE_INFINITY));
  const inEachRow = (that: Tree, after = 0): RowStep => ({
    kind: 'require',
    like: series,
    that,
    after,
    before: 0,
  });
  // Readings of a motion are ideal: what the sensor shows is made of them first. Real ones are what it showed.
  return [
    { kind: 'number', name: row, like: series },
    { kind: 'real', name: real },
    { kind: 'given', name: stamps, like: series, column: 't' },
    { kind: 'column', name: time, like: series, of: choose(nameOf(real), nameOf(stamps), moment) },
    {
      kind: 'column',
      name: value,
      like: series,
      of: subtract(choose(nameOf(real), nameOf(series), shown), zero),
    },
    { kind: 'shifted', name: before, of: time, by: -1 },
    inEachRow(isSound(time)),
    inEachRow(isSound(value)),
    inEachRow(smaller(nameOf(before), nameOf(time)), 1),
  ];
}

function intervalOf(settings: SettingTrees): Tree {
  const rate = treeOf(settings, 'rate', 0);
  return choose(rate, divide(number(1), rate), treeOf(settings, 'interval', 0));
}
