import { clipPolygon } from '../clip.ts';
import type { Level, LevelsMark } from '../figure.ts';
import { type GroupNode, group, type SceneNode, type Spot } from '../scene.ts';
import { drawMarker } from './marker.ts';
import { fineStroke, type Plot, solid } from './plot.ts';

/** Height of an arrow against that of its row. */
const THICKNESS = 0.56;

/**
 * A waterfall lying on its side: totals as markers, steps as broad arrows that start where the last one ended. Fine
 * upright lines lead from row to row, whiskers show one standard uncertainty, and the rest that nothing explains is
 * left empty.
 */
export function drawLevels(mark: LevelsMark, plot: Plot): GroupNode {
  const { rows } = plot;
  if (rows === null) return group('levels', [], mark.role);
  const leads = mark.levels.flatMap((level, row) =>
    level.kind === 'rest' ? leadDown(mark.levels, row, plot) : leadOn(mark.levels, row, plot),
  );
  const bodies = mark.levels.flatMap((level, row): readonly SceneNode[] => {
    const centre = rows.centres[row];
    if (centre === undefined) return [];
    if (level.kind === 'total') return drawTotal(level, centre, plot);
    return drawStep(level, centre, rows.heightPt * THICKNESS, plot);
  });
  const nodes = [...leads, ...bodies];
  return group('levels', nodes, mark.role);
}

/** From where a row ends down to the next row, which starts there. */
function leadOn(levels: readonly Level[], row: number, plot: Plot): readonly SceneNode[] {
  const next = levels[row + 1];
  const own = levels[row];
  const from = plot.rows?.centres[row];
  const to = plot.rows?.centres[row + 1];
  if (next === undefined || from === undefined || to === undefined) return [];
  const end = endOf(own);
  const meets = next.kind === 'total' ? own.kind !== 'total' && next.value === end : next.from === end;
  const x = plot.placeX(end);
  if (!meets || !isWithin(x, plot)) return [];
  const stroke = fineStroke(plot.theme.quietInk, plot.fontPt);
  const piece = [
    { x, y: from },
    { x, y: to },
  ];
  return [{ kind: 'path', pieces: [piece], closed: false, stroke, fill: null }];
}

/** From the two totals that a rest lies between down to its ends. */
function leadDown(levels: readonly Level[], row: number, plot: Plot): readonly SceneNode[] {
  const own = levels[row];
  const to = plot.rows?.centres[row];
  if (own === undefined || own.kind === 'total' || to === undefined) return [];
  const pieces = levels.slice(0, row).flatMap((level, above): Spot[][] => {
    const from = plot.rows?.centres[above];
    const isEnd = level.kind === 'total' && (level.value === own.from || level.value === own.to);
    const x = plot.placeX(endOf(level));
    return isEnd && from !== undefined && isWithin(x, plot)
      ? [
          [
            { x, y: from },
            { x, y: to },
          ],
        ]
      : [];
  });
  if (pieces.length === 0) return [];
  return [
    { kind: 'path', pieces, closed: false, stroke: fineStroke(plot.theme.quietInk, plot.fontPt), fill: null },
  ];
}

function endOf(level: Level): number {
  return level.kind === 'total' ? level.value : level.to;
}

function isWithin(x: number, { box }: Plot): boolean {
  return x >= box.left && x <= box.right;
}

function drawTotal(level: Level & { kind: 'total' }, centre: number, plot: Plot): readonly SceneNode[] {
  const x = plot.placeX(level.value);
  if (!isWithin(x, plot)) return [];
  const stroke = { ...fineStroke(plot.theme.colours[level.role], plot.fontPt), widthPt: 0.13 * plot.fontPt };
  return [
    ...whisker(level.value, level.standardUncertainty, centre, plot, stroke),
    drawMarker({ x, y: centre }, level.role, plot),
  ];
}

function drawStep(
  level: Level & { kind: 'step' | 'rest' },
  centre: number,
  thickness: number,
  plot: Plot,
): readonly SceneNode[] {
  const { theme, fontPt } = plot;
  const from = plot.placeX(level.from);
  const to = plot.placeX(level.to);
  if (!Number.isFinite(from) || !Number.isFinite(to)) return [];
  const half = thickness / 2;
  const outline = fineStroke(theme.ink, fontPt);
  const arrow = clipPolygon(arrowFrom(from, to, centre, half, 0.55 * fontPt), plot.box);
  const nodes: SceneNode[] = [];
  if (arrow.length > 2) {
    const fill = solid(to >= from ? theme.stepUp : theme.stepDown);
    const isRest = level.kind === 'rest';
    const isLong = Math.abs(to - from) > 1.5 * fontPt;
    const stroke = isRest && isLong ? { ...outline, dashPt: [0.35 * fontPt, 0.25 * fontPt] } : outline;
    nodes.push({
      kind: 'path',
      pieces: [arrow],
      closed: true,
      stroke,
      fill: isRest ? solid(theme.paper) : fill,
    });
  }
  nodes.push(
    ...whisker(level.to, level.standardUncertainty, centre, plot, { ...outline, colour: theme.ink }),
  );
  return nodes;
}

/** A broad arrow; one too short for a head is all head, and one of no length a stroke. */
function arrowFrom(from: number, to: number, centre: number, half: number, head: number): readonly Spot[] {
  const sign = to >= from ? 1 : -1;
  const neck = to - sign * Math.min(head, Math.abs(to - from));
  return [
    { x: from, y: centre - half },
    { x: neck, y: centre - half },
    { x: to, y: centre },
    { x: neck, y: centre + half },
    { x: from, y: centre + half },
  ];
}

function whisker(
  value: number,
  u: number,
  centre: number,
  plot: Plot,
  stroke: ReturnType<typeof fineStroke>,
): readonly SceneNode[] {
  if (!Number.isFinite(u) || u <= 0) return [];
  const cap = 0.3 * plot.fontPt;
  const ends = [value - u, value + u].map(plot.placeX);
  const [left, right] = ends.map((x) => Math.min(Math.max(x, plot.box.left), plot.box.right));
  const caps = ends
    .filter((x) => isWithin(x, plot))
    .map((x) => [
      { x, y: centre - cap },
      { x, y: centre + cap },
    ]);
  const bar = [
    { x: left, y: centre },
    { x: right, y: centre },
  ];
  return [{ kind: 'path', pieces: [bar, ...caps], closed: false, stroke, fill: null }];
}
