import type { MotionSource, SettingValue } from '../../src/instrument/index.ts';
import type { Dimension } from '../../src/quantity/index.ts';

export const angle: Dimension = [0, 0, 0, 0, 0, 0, 0];
export const length: Dimension = [1, 0, 0, 0, 0, 0, 0];
export const time: Dimension = [0, 0, 1, 0, 0, 0, 0];
export const force: Dimension = [1, 1, -2, 0, 0, 0, 0];

/** A signal that is given as a function, with breaks where `before` differs. */
export function motionOf(
  valueAt: (t: number) => number,
  endS: number,
  options: {
    breaks?: readonly number[];
    valueBefore?: (t: number) => number;
    dimension?: Dimension;
    startS?: number;
  } = {},
): MotionSource {
  return {
    kind: 'motion',
    startS: options.startS ?? 0,
    endS,
    breaks: Float64Array.from(options.breaks ?? []),
    dimension: options.dimension ?? angle,
    valueAt,
    valueBefore: options.valueBefore ?? valueAt,
  };
}

export function settings(values: Record<string, SettingValue>): ReadonlyMap<string, SettingValue> {
  return new Map(Object.entries(values));
}
