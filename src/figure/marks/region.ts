import { clipLine, clipPolygon } from '../clip.ts';
import type { RegionMark } from '../figure.ts';
import { type Box, type GroupNode, group, type SceneNode, type Spot } from '../scene.ts';
import { fineStroke, type Plot } from './plot.ts';

/** A hatched part of the plot, from one x to another. */
export function drawRegion(mark: RegionMark, plot: Plot): GroupNode {
  const places = [plot.placeX(mark.from), plot.placeX(mark.to)].map((place) =>
    Math.min(Math.max(place, plot.box.left), plot.box.right),
  );
  const [left, right] = places[0] < places[1] ? places : [places[1], places[0]];
  // Written so that places that are not numbers draw nothing.
  if (!(right > left)) return group('region', [], mark.role);
  return group('region', hatch({ ...plot.box, left, right }, mark, plot), mark.role);
}

/** A box with slanting lines: seen in grey, and what lies beneath stays visible. */
export function hatch(
  box: Box,
  mark: Pick<RegionMark, 'role'>,
  plot: Pick<Plot, 'theme' | 'fontPt'>,
): readonly SceneNode[] {
  const { left, right, top, bottom } = box;
  const colour = plot.theme.colours[mark.role];
  const stroke = { ...fineStroke(colour, plot.fontPt), widthPt: 0.045 * plot.fontPt };
  const height = bottom - top;
  const gap = 0.7 * plot.fontPt;
  const lines: (readonly Spot[])[] = [];
  for (let start = left - height; start < right; start += gap) {
    const line = [
      { x: start, y: bottom },
      { x: start + height, y: top },
    ];
    lines.push(...clipLine(line, box));
  }
  const outline = clipPolygon(
    [
      { x: left, y: top },
      { x: right, y: top },
      { x: right, y: bottom },
      { x: left, y: bottom },
    ],
    box,
  );
  const edge = { ...stroke, widthPt: 0.09 * plot.fontPt };
  return [
    { kind: 'path', pieces: [outline], closed: true, stroke: null, fill: { colour, opacity: 0.08 } },
    { kind: 'path', pieces: lines, closed: false, stroke, fill: null },
    {
      kind: 'path',
      pieces: [[outline[0], outline[3]].filter((each) => each !== undefined)],
      closed: false,
      stroke: edge,
      fill: null,
    },
  ];
}
