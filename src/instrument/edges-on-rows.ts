import type { RowStep } from '../engine/index.ts';
import { add, divide, multiply, number, subtract, type Tree } from '../expression/index.ts';
import { nameOf, smaller } from './row-trees.ts';
import { type SettingTrees, treeOf } from './setting-trees.ts';

const FULL_TURN = 2 * Math.PI;

/** Angle between neighbouring marks. */
export function spacingOf(settings: SettingTrees): Tree {
  return divide(number(FULL_TURN), treeOf(settings, 'edges per turn', Number.NaN));
}

/**
 * Time and angle of each edge where the stamps rise and no edge seems to be lost: in all else `physical` has a say.
 */
export function edgesOnRows(
  settings: SettingTrees,
  series: string,
  [time, angle]: readonly string[],
): readonly RowStep[] {
  const at = (by: number): string => `${series}, ${by} rows on`;
  const shifted = (by: number): RowStep => ({ kind: 'shifted', name: at(by), of: series, by });
  const row = `${series}, row`;
  const steps: RowStep[] = [
    { kind: 'number', name: row, like: series },
    ...[-2, -1, 1].map(shifted),
    {
      kind: 'require',
      like: series,
      that: smaller(nameOf(series), number(Number.POSITIVE_INFINITY)),
      after: 0,
      before: 0,
    },
    { kind: 'require', like: series, that: smaller(nameOf(at(-1)), nameOf(series)), after: 1, before: 0 },
  ];
  if (settings.get('lost edges') !== 'left') {
    // An interval that is taken for several spacings is 1.7 times the geometric mean of its neighbours, or more.
    const interval = subtract(nameOf(series), nameOf(at(-1)));
    const before = subtract(nameOf(at(-1)), nameOf(at(-2)));
    const after = subtract(nameOf(at(1)), nameOf(series));
    const isRegular = smaller(multiply(interval, interval), multiply(number(2.8), multiply(before, after)));
    steps.push({ kind: 'require', like: series, that: isRegular, after: 3, before: 2 });
  }
  const count = add(nameOf(row), number(1));
  const turned = multiply(subtract(count, treeOf(settings, 'phase', 0)), spacingOf(settings));
  return [
    ...steps,
    { kind: 'column', name: time, like: series, of: nameOf(series) },
    { kind: 'column', name: angle, like: series, of: turned },
  ];
}
