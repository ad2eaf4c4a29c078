import { clipLine } from '../clip.ts';
import type { RegionMark } from '../figure.ts';
import { type Box, type GroupNode, group, type SceneNode, type Spot, type Stroke } from '../scene.ts';
import { fineStroke, type Plot } from './plot.ts';

/** A part of the plot from one x to another, hatched or tinted. */
export function drawRegion(mark: RegionMark, plot: Plot): GroupNode {
  const places = [plot.placeX(mark.from), plot.placeX(mark.to)].map((place) =>
    Math.min(Math.max(place, plot.box.left), plot.box.right),
  );
  const [left, right] = places[0] < places[1] ? places : [places[1], places[0]];
  // Written so that places that are not numbers draw nothing.
  if (!(right > left)) return group('region', [], mark.role);
  return group('region', fillRegion({ ...plot.box, left, right }, mark, plot), mark.role);
}

/** A box as a region is drawn: what lies beneath or above stays visible, and its ends are seen in grey. */
export function fillRegion(
  box: Box,
  { role, look }: Pick<RegionMark, 'role' | 'look'>,
  plot: Pick<Plot, 'theme' | 'fontPt'>,
): readonly SceneNode[] {
  const { left, right, top, bottom } = box;
  const colour = plot.theme.colours[role];
  const outline = [
    { x: left, y: top },
    { x: right, y: top },
    { x: right, y: bottom },
    { x: left, y: bottom },
  ];
  const ends = [
    [
      { x: left, y: top },
      { x: left, y: bottom },
    ],
    [
      { x: right, y: top },
      { x: right, y: bottom },
    ],
  ];
  const fine = { ...fineStroke(colour, plot.fontPt), widthPt: 0.045 * plot.fontPt };
  const edge = { ...fine, widthPt: 0.08 * plot.fontPt };
  return [
    { kind: 'path', pieces: [outline], closed: true, stroke: null, fill: { colour, opacity: 0.1 } },
    ...(look === 'hatched' ? [hatching(box, fine, plot.fontPt)] : []),
    { kind: 'path', pieces: ends, closed: false, stroke: edge, fill: null },
  ];
}

function hatching(box: Box, stroke: Stroke, fontPt: number): SceneNode {
  const { left, right, top, bottom } = box;
  const height = bottom - top;
  const lines: (readonly Spot[])[] = [];
  for (let start = left - height; start < right; start += 0.7 * fontPt) {
    const line = [
      { x: start, y: bottom },
      { x: start + height, y: top },
    ];
    lines.push(...clipLine(line, box));
  }
  return { kind: 'path', pieces: lines, closed: false, stroke, fill: null };
}
