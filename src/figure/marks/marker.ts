import type { SeriesRole } from '../figure.ts';
import type { SceneNode, Spot } from '../scene.ts';
import { seriesStyles } from '../series-style.ts';
import { fineStroke, MARKER, type Plot, solid } from './plot.ts';

/**
 * The marker of a role at a spot. Shapes differ, and all but the disc of readings are open and a little larger,
 * so that they are told apart in grey and where they lie on one another.
 *
 * @param r half its width, points
 */
export function drawMarker(
  at: Spot,
  role: SeriesRole,
  plot: Pick<Plot, 'theme' | 'fontPt'>,
  r = MARKER * plot.fontPt,
): SceneNode {
  const { theme, fontPt } = plot;
  const colour = theme.colours[role];
  const stroke = { ...fineStroke(colour, fontPt), widthPt: 0.12 * fontPt };
  const paper = solid(theme.paper);
  const polygon = (spots: readonly (readonly [number, number])[]): SceneNode => ({
    kind: 'path',
    pieces: [spots.map(([dx, dy]) => ({ x: at.x + dx * r, y: at.y + dy * r }))],
    closed: true,
    stroke,
    fill: paper,
  });
  switch (seriesStyles[role].shape) {
    case 'disc':
      return { kind: 'circle', at, radius: r, stroke: null, fill: solid(colour) };
    case 'ring':
      return { kind: 'circle', at, radius: r, stroke, fill: paper };
    case 'square':
      return polygon([
        [-1.2, -1.2],
        [1.2, -1.2],
        [1.2, 1.2],
        [-1.2, 1.2],
      ]);
    case 'diamond':
      return polygon([
        [0, -1.55],
        [1.55, 0],
        [0, 1.55],
        [-1.55, 0],
      ]);
    case 'triangle':
      return polygon([
        [0, -1.55],
        [1.5, 1.05],
        [-1.5, 1.05],
      ]);
  }
}
