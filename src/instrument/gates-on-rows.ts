import type { RowStep } from '../engine/index.ts';
import { add, call, choose, divide, number, subtract, type Tree } from '../expression/index.ts';
import type { LanesSeries } from './instrument-kind.ts';
import { nameOf, size, smaller } from './row-trees.ts';
import { type SettingTrees, treeOf, treesOf } from './setting-trees.ts';

/** Whether a flag has a width; one that is nought is no flag. */
export function hasFlag(settings: SettingTrees): boolean {
  const flag = treeOf(settings, 'flag', 0);
  return flag.kind !== 'number' || flag.value !== 0;
}

/** Where each gate begins and ends to be blocked, gate by gate; without a flag where it stands. */
export function gatesOnLanes(settings: SettingTrees): LanesSeries {
  const at = treesOf(settings, 'at') ?? [];
  if (!hasFlag(settings)) return { kind: 'passages', levels: at };
  const half = divide(treeOf(settings, 'flag', 0), number(2));
  return { kind: 'passages', levels: at.flatMap((place) => [subtract(place, half), add(place, half)]) };
}

/** A flag that may be nought is looked at for itself. */
export function flagIsWide(settings: SettingTrees): readonly Tree[] {
  return hasFlag(settings) ? [smaller(number(0), treeOf(settings, 'flag', 0))] : [];
}

/** The middle of the blocked time, the place and for how long it is blocked, where the readings are those of a motion. */
export function gatesOnRows(
  settings: SettingTrees,
  series: string,
  [time, place, blocked]: readonly string[],
): readonly RowStep[] {
  const [row, real, next] = ['row', 'real', 'the row after'].map((what) => `${series}, ${what}`);
  const at = treesOf(settings, 'at') ?? [];
  const stampsPerGate = hasFlag(settings) ? 2 : 1;
  const steps: RowStep[] = [
    { kind: 'number', name: row, like: series },
    { kind: 'real', name: real },
    { kind: 'require', like: series, that: smaller(nameOf(real), number(0.5)), after: 0, before: 0 },
  ];
  const duration = subtract(nameOf(next), nameOf(series));
  const columns: readonly (readonly [name: string, of: Tree])[] = [
    [place, placeOfRow(at, stampsPerGate, nameOf(row))],
    [blocked, stampsPerGate === 1 ? number(0) : duration],
    [time, stampsPerGate === 1 ? nameOf(series) : add(nameOf(series), divide(duration, number(2)))],
  ];
  const made = columns.map(([name, of]): RowStep => ({ kind: 'column', name, like: series, of }));
  if (stampsPerGate === 1) return [...steps, ...made];
  // The first of each two rows; one whose gate is still blocked at the end is no passage.
  const half = divide(nameOf(row), number(2));
  const isFirst = smaller(subtract(half, call('floor', half)), number(0.25));
  return [
    ...steps,
    { kind: 'shifted', name: next, of: series, by: 1 },
    ...made,
    { kind: 'keep', like: series, where: isFirst },
    { kind: 'keep', like: series, where: smaller(size(nameOf(blocked)), number(Number.POSITIVE_INFINITY)) },
  ];
}

function placeOfRow(at: readonly Tree[], stampsPerGate: number, row: Tree): Tree {
  return at.reduceRight((rest, place, index) => {
    const isBefore = subtract(number(stampsPerGate * (index + 1) - 0.5), row);
    return choose(isBefore, place, rest);
  }, number(Number.NaN));
}
