import type { RowStep } from '../engine/index.ts';
import { add, divide, multiply, subtract, type Tree } from '../expression/index.ts';
import { nameOf } from './rows-of-names.ts';

/**
 * As `threePointSpeeds`, where the batch engine has the readings: the first and the last row are left out.
 *
 * @param t, x columns of times and places
 * @param gives names for the times, the places and the speeds, of which the last may be left out
 */
export function threePointRows(t: string, x: string, gives: readonly string[]): readonly RowStep[] {
  const before = (name: string): string => `${name}, the row before`;
  const after = (name: string): string => `${name}, the row after`;
  const difference = (later: string, earlier: string): Tree => subtract(nameOf(later), nameOf(earlier));
  const stepBefore = difference(t, before(t));
  const stepAfter = difference(after(t), t);
  const speedBefore = divide(difference(x, before(x)), stepBefore);
  const speedAfter = divide(difference(after(x), x), stepAfter);
  const speed = divide(
    add(multiply(speedBefore, stepAfter), multiply(speedAfter, stepBefore)),
    add(stepBefore, stepAfter),
  );
  const [time, place, rate] = gives;
  return [
    { kind: 'at least', like: t, rows: 3 },
    ...[t, x].flatMap((name): RowStep[] => [
      { kind: 'shifted', name: before(name), of: name, by: -1 },
      { kind: 'shifted', name: after(name), of: name, by: 1 },
    ]),
    { kind: 'shifted', name: time, of: t, by: 0 },
    { kind: 'shifted', name: place, of: x, by: 0 },
    ...(rate === undefined ? [] : [{ kind: 'column', name: rate, like: t, of: speed } as const]),
    { kind: 'trim', like: t, first: 1, last: 1 },
  ];
}
