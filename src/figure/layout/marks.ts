import type { Mark } from '../figure.ts';
import { drawBand } from '../marks/band.ts';
import { drawHistogram } from '../marks/bars.ts';
import { drawCurve } from '../marks/curve.ts';
import { drawLevels } from '../marks/levels.ts';
import type { Plot } from '../marks/plot.ts';
import { type Drawn, drawPoints } from '../marks/points.ts';
import { drawRegion } from '../marks/region.ts';
import { drawRule } from '../marks/rule.ts';

/** Areas lie beneath lines, lines beneath points, whatever their order in the description. */
const DEPTH: Readonly<Record<Mark['kind'], number>> = {
  region: 0,
  bars: 1,
  band: 2,
  rule: 3,
  curve: 4,
  levels: 5,
  points: 6,
};

/** Draws the marks of a panel, the deepest first; of one kind the measured ones last, so that nothing covers them. */
export function drawMarks(marks: readonly Mark[], plot: Plot): readonly Drawn[] {
  return [...marks].sort((a, b) => depthOf(a) - depthOf(b)).map((mark) => drawMark(mark, plot));
}

/** So many readings cover a line: then it lies on them. */
const CROWD = 150;

function depthOf(mark: Mark): number {
  if (mark.kind === 'points' && mark.x.length > CROWD) return DEPTH.rule + 0.5;
  return DEPTH[mark.kind] + (mark.role === 'measured' ? 0.5 : 0);
}

function drawMark(mark: Mark, plot: Plot): Drawn {
  switch (mark.kind) {
    case 'points':
      return drawPoints(mark, plot);
    case 'curve':
      return drawCurve(mark, plot);
    case 'band':
      return whole(drawBand(mark, plot));
    case 'rule':
      return whole(drawRule(mark, plot));
    case 'region':
      return whole(drawRegion(mark, plot));
    case 'bars':
      return whole(drawHistogram(mark, plot));
    case 'levels':
      return whole(drawLevels(mark, plot));
  }
}

function whole(node: Drawn['node']): Drawn {
  return { node, thinned: false };
}
