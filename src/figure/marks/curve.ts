import { clipLine } from '../clip.ts';
import { thinLine } from '../decimate.ts';
import type { CurveMark } from '../figure.ts';
import { group, type Spot } from '../scene.ts';
import { type Plot, strokeOf } from './plot.ts';
import type { Drawn } from './points.ts';

/** Finer detail than this is not seen on paper. */
const COLUMN_PT = 0.5;

/** A line through values, thinned where it has more of them than the paper has columns. */
export function drawCurve(mark: CurveMark, plot: Plot): Drawn {
  const n = Math.min(mark.x.length, mark.y.length);
  const x = Float64Array.from({ length: n }, (_, i) => plot.placeX(mark.x[i]));
  const y = Float64Array.from({ length: n }, (_, i) => plot.placeY(mark.y[i]));
  const thinned = n > (2 * (plot.box.right - plot.box.left)) / COLUMN_PT;
  const kept = thinned ? thinLine(x, y, COLUMN_PT) : Array.from(x, (_, index) => index);
  const spots = kept.map((i): Spot => ({ x: x[i], y: y[i] }));
  const pieces = clipLine(spots, plot.box);
  const stroke = strokeOf(mark.role, plot);
  return {
    node: group(
      'curve',
      pieces.length === 0 ? [] : [{ kind: 'path', pieces, closed: false, stroke, fill: null }],
      mark.role,
    ),
    thinned,
  };
}
