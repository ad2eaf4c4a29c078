import { clipLine } from '../clip.ts';
import type { RuleMark } from '../figure.ts';
import { type GroupNode, group } from '../scene.ts';
import { type Plot, strokeOf } from './plot.ts';

/** One value of an axis, right across the plot. */
export function drawRule(mark: RuleMark, plot: Plot): GroupNode {
  const { left, right, top, bottom } = plot.box;
  const at = mark.along === 'x' ? plot.placeX(mark.at) : plot.placeY(mark.at);
  const ends =
    mark.along === 'x'
      ? [
          { x: at, y: top },
          { x: at, y: bottom },
        ]
      : [
          { x: left, y: at },
          { x: right, y: at },
        ];
  const pieces = clipLine(ends, plot.box);
  if (pieces.length === 0) return group('rule', [], mark.role);
  return group(
    'rule',
    [{ kind: 'path', pieces, closed: false, stroke: strokeOf(mark.role, plot), fill: null }],
    mark.role,
  );
}
