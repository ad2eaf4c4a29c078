import { clipPolygon } from '../clip.ts';
import type { BandMark } from '../figure.ts';
import { type GroupNode, group, type Spot } from '../scene.ts';
import { fineStroke, type Plot } from './plot.ts';

/** What lies between two curves, lightly filled, with fine edges so that it is seen where the filling is not. */
export function drawBand(mark: BandMark, plot: Plot): GroupNode {
  const there: Spot[] = [];
  const back: Spot[] = [];
  for (let i = 0; i < mark.x.length; i++) {
    const x = plot.placeX(mark.x[i]);
    const low = plot.placeY(mark.low[i]);
    const high = plot.placeY(mark.high[i]);
    if (![x, low, high].every(Number.isFinite)) continue;
    there.push({ x, y: high });
    back.unshift({ x, y: low });
  }
  const outline = clipPolygon([...there, ...back], plot.box);
  if (outline.length < 3) return group('band', [], mark.role);
  const colour = plot.theme.colours[mark.role];
  const fill = { colour, opacity: plot.theme.bandOpacity };
  const stroke = { ...fineStroke(colour, plot.fontPt), widthPt: 0.05 * plot.fontPt };
  return group('band', [{ kind: 'path', pieces: [outline], closed: true, stroke, fill }], mark.role);
}
