import { clipPolygon } from '../clip.ts';
import type { BarsMark } from '../figure.ts';
import { type GroupNode, group, type Spot } from '../scene.ts';
import { fineStroke, type Plot, solid } from './plot.ts';

/** The bars of a histogram. */
export function drawHistogram(mark: BarsMark, plot: Plot): GroupNode {
  const pieces: (readonly Spot[])[] = [];
  const ground = plot.placeY(0);
  for (let i = 0; i < mark.heights.length; i++) {
    const left = plot.placeX(mark.edges[i]);
    const right = plot.placeX(mark.edges[i + 1]);
    const top = plot.placeY(mark.heights[i]);
    if (!(mark.heights[i] !== 0) || ![left, right, top, ground].every(Number.isFinite)) continue;
    const corners = [
      { x: left, y: ground },
      { x: left, y: top },
      { x: right, y: top },
      { x: right, y: ground },
    ];
    const bar = clipPolygon(corners, plot.box);
    if (bar.length > 2) pieces.push(bar);
  }
  if (pieces.length === 0) return group('bars', [], mark.role);
  const stroke = fineStroke(plot.theme.colours[mark.role], plot.fontPt);
  return group(
    'bars',
    [{ kind: 'path', pieces, closed: true, stroke, fill: solid(plot.theme.bar) }],
    mark.role,
  );
}
