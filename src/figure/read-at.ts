import { isInside } from './clip.ts';
import type { ChartFigure, CurveMark, PointsMark } from './figure.ts';
import { joinText, plainText, type RichText } from './rich-text.ts';
import { sayNumber } from './say-number.ts';
import { placing } from './scale.ts';
import type { PlacedPanel, Scene, Spot } from './scene.ts';

/** A value of a figure near a place on the paper. */
export interface Reading {
  /** Index of the panel, from the top. */
  readonly panel: number;
  readonly mark: PointsMark | CurveMark;
  /** Index of the value in the mark. */
  readonly index: number;
  readonly at: Spot;
  /** 'x² = 0.52 m², v² = 1.12 m²/s²: measured'. */
  readonly text: RichText;
}

/**
 * The reading or the value of a curve that is nearest to a place, for a reader who points at a figure.
 *
 * @param scene  the figure as it was laid out
 * @param spot   in points from the scene's upper left corner
 * @param reachPt values farther away are not found
 */
export function readAt(figure: ChartFigure, scene: Scene, spot: Spot, reachPt = 24): Reading | null {
  let best: Omit<Reading, 'text'> | null = null;
  let least = reachPt;
  for (const [panel, placed] of scene.panels.entries()) {
    if (!isInside(spot, placed.box)) continue;
    for (const mark of figure.panels[panel]?.marks ?? []) {
      if (mark.kind !== 'points' && mark.kind !== 'curve') continue;
      const found = nearestOf(mark, placed, spot);
      if (found === null || found.distance >= least) continue;
      least = found.distance;
      best = { panel, mark, index: found.index, at: found.at };
    }
  }
  return best === null ? null : withText(best, figure);
}

function nearestOf(
  mark: PointsMark | CurveMark,
  { box, x, y }: PlacedPanel,
  spot: Spot,
): { readonly index: number; readonly at: Spot; readonly distance: number } | null {
  const placeX = placing(x);
  const placeY = placing(y);
  let nearest: { index: number; at: Spot; distance: number } | null = null;
  for (let index = 0; index < mark.x.length; index++) {
    const at = { x: placeX(mark.x[index]), y: placeY(mark.y[index]) };
    const distance = Math.hypot(at.x - spot.x, at.y - spot.y);
    if (isInside(at, box) && distance < (nearest?.distance ?? Number.POSITIVE_INFINITY))
      nearest = { index, at, distance };
  }
  return nearest;
}

function withText(reading: Omit<Reading, 'text'>, figure: ChartFigure): Reading {
  const { mark, index, panel } = reading;
  const y = figure.panels[panel]?.y;
  const x = sayNumber(mark.x[index], figure.x.unit, figure, 4);
  const parts = [joinText(figure.x.quantity, ` = ${x}`)];
  if (y !== undefined && y.kind !== 'rows') {
    parts.push(joinText(y.quantity, ` = ${sayNumber(mark.y[index], y.unit, figure, 4)}`));
  }
  const name = plainText(mark.name) === '' ? [] : joinText(': ', mark.name);
  return {
    ...reading,
    text: joinText(...parts.flatMap((part, i) => (i === 0 ? [part] : [', ', part])), name),
  };
}
