import { scaleLinear, scaleLog } from 'd3-scale';

/** How the values of an axis belong to places on the paper; plain data, so that it can be sent to a worker. */
export interface Scale {
  readonly kind: 'linear' | 'log';
  /** Values at the two ends; positive for a logarithmic scale. */
  readonly domain: readonly [number, number];
  /** Places of the two ends, points. */
  readonly range: readonly [number, number];
}

/** Place of a value, points; NaN where the scale has none for it. */
export type Placing = (value: number) => number;

/** A function that places many values of one scale; far beyond its ends a place may be infinite. */
export function placing({ kind, domain, range }: Scale): Placing {
  const [start, end] = range;
  if (kind === 'linear') {
    const [low, high] = domain;
    return (value) => start + ((value - low) / (high - low)) * (end - start);
  }
  const place = scaleLog(domain, range);
  return (value) => (value > 0 ? place(value) : Number.NaN);
}

/** The value at a place: what a reader points at. */
export function valueAt(scale: Scale, placePt: number): number {
  return scale.kind === 'linear'
    ? scaleLinear(scale.domain, scale.range).invert(placePt)
    : scaleLog(scale.domain, scale.range).invert(placePt);
}

/** The range widened to the next round values at both ends, of about `count` steps. */
export function reachRound(domain: readonly [number, number], count: number): readonly [number, number] {
  const [low, high] = scaleLinear(domain, [0, 1]).nice(count).domain();
  return [low, high];
}
