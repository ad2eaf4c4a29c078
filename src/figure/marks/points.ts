import { isInside } from '../clip.ts';
import { thinPoints } from '../decimate.ts';
import type { PointsMark } from '../figure.ts';
import { type GroupNode, group, type SceneNode, type Spot } from '../scene.ts';
import { drawMarker } from './marker.ts';
import { fineStroke, markerSize, type Plot } from './plot.ts';

/** More markers than this cannot be told apart on any paper. */
const MOST_POINTS = 2000;

/** A mark as drawn, and whether values were left out of it because there are more than the paper can show. */
export interface Drawn {
  readonly node: GroupNode;
  readonly thinned: boolean;
}

/** Readings as markers with bars of one standard uncertainty; bars of thinned readings would hide one another. */
export function drawPoints(mark: PointsMark, plot: Plot): Drawn {
  const n = Math.min(mark.x.length, mark.y.length);
  const spots = Array.from(
    { length: n },
    (_, i): Spot => ({ x: plot.placeX(mark.x[i]), y: plot.placeY(mark.y[i]) }),
  );
  const thinned = n > MOST_POINTS;
  const width = (plot.box.right - plot.box.left) / (MOST_POINTS / 2);
  const kept = thinned
    ? thinPoints(
        spots.map(({ x }) => x),
        spots.map(({ y }) => y),
        width,
      )
    : spots.map((_, index) => index);
  const r = markerSize(kept.length, plot);
  const bars: SceneNode[] = [];
  const markers: SceneNode[] = [];
  for (const i of kept) {
    const spot = spots[i];
    if (!isInside(spot, plot.box)) continue;
    markers.push(drawMarker(spot, mark.role, plot, r));
    if (!thinned) bars.push(...drawBars(mark, i, spot, r, plot));
  }
  return { node: group('points', [...bars, ...markers], mark.role), thinned };
}

function drawBars(mark: PointsMark, i: number, spot: Spot, r: number, plot: Plot): readonly SceneNode[] {
  const cap = 0.75 * r;
  const pieces: Spot[][] = [];
  const uy = mark.uy?.[i] ?? 0;
  const ux = mark.ux?.[i] ?? 0;
  if (Number.isFinite(uy) && uy > 0) {
    const ends = [plot.placeY(mark.y[i] - uy), plot.placeY(mark.y[i] + uy)];
    pieces.push(
      ...whisker(ends, plot.box.top, plot.box.bottom, cap, (along, across) => ({
        x: spot.x + across,
        y: along,
      })),
    );
  }
  if (Number.isFinite(ux) && ux > 0) {
    const ends = [plot.placeX(mark.x[i] - ux), plot.placeX(mark.x[i] + ux)];
    pieces.push(
      ...whisker(ends, plot.box.left, plot.box.right, cap, (along, across) => ({
        x: along,
        y: spot.y + across,
      })),
    );
  }
  const inside = pieces.filter((piece) => piece.every((each) => isInside(each, plot.box)));
  if (inside.length === 0) return [];
  const stroke = fineStroke(plot.theme.colours[mark.role], plot.fontPt);
  return [{ kind: 'path', pieces: inside, closed: false, stroke, fill: null }];
}

/**
 * A bar with a cap at each end that the plot still shows.
 *
 * @param ends where it ends, points; NaN where a logarithmic axis has no place for it
 */
function whisker(
  ends: readonly number[],
  least: number,
  most: number,
  cap: number,
  spot: (along: number, across: number) => Spot,
): readonly Spot[][] {
  const far = ends.map((end, index) => (Number.isNaN(end) ? (index === 0 ? most : least) : end));
  const [from, to] = far.map((end) => Math.min(Math.max(end, least), most));
  const caps = far
    .filter((end) => end >= least && end <= most)
    .map((end) => [spot(end, -cap), spot(end, cap)]);
  return [[spot(from, 0), spot(to, 0)], ...caps];
}
