import type { RowStep } from '../engine/index.ts';
import { choose, number, type Tree } from '../expression/index.ts';
import { nameOf, size, smaller } from './row-trees.ts';

/** How samples of a series become a time and a value, in trees of the names given. */
export interface SampleTrees {
  /** Time of a sample of a motion, from the number of its row; of a real one its stamp stands for it. */
  readonly moment: (row: Tree) => Tree;
  /** What the sensor shows of a sample of a motion; of a real one the reading stands for it. */
  readonly shown: (sample: Tree) => Tree;
  /** The physical columns, from the time and what was shown. */
  readonly time: (stamp: Tree) => Tree;
  readonly value: (shown: Tree) => Tree;
}

/** Time and value of each sample, sound and in order of time. */
export function rowsOfSamples(
  series: string,
  [time, value]: readonly string[],
  trees: SampleTrees,
): readonly RowStep[] {
  const [row, real, stamps, before] = ['row', 'real', 'stamps', 'the row before'].map(
    (what) => `${series}, ${what}`,
  );
  const inEachRow = (that: Tree, after = 0): RowStep => ({
    kind: 'require',
    like: series,
    that,
    after,
    before: 0,
  });
  const isSound = (name: string): Tree => smaller(size(nameOf(name)), number(Number.POSITIVE_INFINITY));
  const stamp = choose(nameOf(real), nameOf(stamps), trees.moment(nameOf(row)));
  const shown = choose(nameOf(real), nameOf(series), trees.shown(nameOf(series)));
  // Readings of a motion are ideal: what the sensor shows is made of them first. Real ones are what it showed.
  return [
    { kind: 'number', name: row, like: series },
    { kind: 'real', name: real },
    { kind: 'given', name: stamps, like: series, column: 't' },
    { kind: 'column', name: time, like: series, of: trees.time(stamp) },
    { kind: 'column', name: value, like: series, of: trees.value(shown) },
    { kind: 'shifted', name: before, of: time, by: -1 },
    inEachRow(isSound(time)),
    inEachRow(isSound(value)),
    inEachRow(smaller(nameOf(before), nameOf(time)), 1),
  ];
}
