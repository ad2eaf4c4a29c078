import type { ChartFigure, Mark, SeriesRole } from '../figure.ts';
import { drawMarker } from '../marks/marker.ts';
import { fineStroke, type Plot, solid, strokeOf } from '../marks/plot.ts';
import { fillRegion } from '../marks/region.ts';
import { cutText, measureText } from '../measure-text.ts';
import { plainText, type RichText } from '../rich-text.ts';
import { group, type SceneNode } from '../scene.ts';
import type { Appearance } from './appearance.ts';
import { SPACE } from './metrics.ts';

/** One series of the legend; marks of one role and name share an entry. */
interface Entry {
  readonly role: SeriesRole;
  readonly name: RichText;
  readonly marks: readonly Mark[];
}

/** Lines above the plot, and how high they are, points. */
export interface Lines {
  readonly nodes: readonly SceneNode[];
  readonly heightPt: number;
}

const SAMPLE = 2.2;
const AFTER_SAMPLE = 0.5;
const BETWEEN = 1.5;

/** The legend in as many lines as it needs, above the plot, where it never hides a mark. */
export function layOutLegend(figure: ChartFigure, topPt: number, appearance: Appearance): Lines {
  const { fontPt, widthPt } = appearance.size;
  const { theme } = appearance;
  const left = SPACE.margin * fontPt;
  const right = widthPt - SPACE.margin * fontPt;
  const nodes: SceneNode[] = [];
  let x = left;
  let line = 0;
  for (const entry of entriesOf(figure)) {
    const room = right - left - (SAMPLE + AFTER_SAMPLE) * fontPt;
    const text = cutText(entry.name, room, fontPt);
    const width = (SAMPLE + AFTER_SAMPLE) * fontPt + measureText(text, fontPt);
    if (x > left && x + width > right) {
      x = left;
      line += 1;
    }
    const top = topPt + line * SPACE.line * fontPt;
    const baseline = top + SPACE.baseline * fontPt;
    nodes.push(...drawSample(entry, x, baseline - SPACE.middle * fontPt, { theme, fontPt }), {
      kind: 'text',
      at: { x: x + (SAMPLE + AFTER_SAMPLE) * fontPt, y: baseline },
      anchor: 'start',
      sizePt: fontPt,
      colour: theme.ink,
      text,
    });
    x += width + BETWEEN * fontPt;
  }
  if (nodes.length === 0) return { nodes: [], heightPt: 0 };
  return { nodes: [group('legend', nodes)], heightPt: (line + 1) * SPACE.line * fontPt };
}

function entriesOf(figure: ChartFigure): readonly Entry[] {
  const entries = new Map<string, Entry>();
  for (const mark of figure.panels.flatMap((panel) => panel.marks)) {
    // A rule with a label over the plot needs no second one.
    if (mark.name.length === 0 || (mark.kind === 'rule' && mark.label.length > 0)) continue;
    const key = `${mark.role} ${plainText(mark.name)}`;
    const entry = entries.get(key);
    entries.set(key, { role: mark.role, name: mark.name, marks: [...(entry?.marks ?? []), mark] });
  }
  return [...entries.values()];
}

/** A small picture of the marks, drawn as they are in the plot. */
function drawSample(
  { role, marks }: Entry,
  left: number,
  middle: number,
  plot: Pick<Plot, 'theme' | 'fontPt'>,
): readonly SceneNode[] {
  const { theme, fontPt } = plot;
  const right = left + SAMPLE * fontPt;
  const centre = { x: (left + right) / 2, y: middle };
  const kinds = new Set(marks.map(({ kind }) => kind));
  const across = [
    { x: left, y: middle },
    { x: right, y: middle },
  ];
  const box = { left, right, top: middle - 0.45 * fontPt, bottom: middle + 0.45 * fontPt };
  const corners = [
    { x: box.left, y: box.top },
    { x: box.right, y: box.top },
    { x: box.right, y: box.bottom },
    { x: box.left, y: box.bottom },
  ];
  const colour = theme.colours[role];
  const nodes: SceneNode[] = [];
  for (const mark of marks) {
    if (mark.kind === 'region') nodes.push(...fillRegion(box, mark, plot));
  }
  if (kinds.has('bars')) {
    nodes.push({
      kind: 'path',
      pieces: [corners],
      closed: true,
      stroke: fineStroke(colour, fontPt),
      fill: solid(theme.bar),
    });
  }
  if (kinds.has('band')) {
    nodes.push({
      kind: 'path',
      pieces: [corners],
      closed: true,
      stroke: { ...fineStroke(colour, fontPt), widthPt: 0.05 * fontPt },
      fill: { colour, opacity: theme.bandOpacity },
    });
  }
  if (kinds.has('curve') || kinds.has('rule')) {
    nodes.push({ kind: 'path', pieces: [across], closed: false, stroke: strokeOf(role, plot), fill: null });
  }
  if (kinds.has('points')) {
    const hasBars = marks.some((mark) => mark.kind === 'points' && (mark.uy !== null || mark.ux !== null));
    if (hasBars) {
      const bar = [
        { x: centre.x, y: box.top },
        { x: centre.x, y: box.bottom },
      ];
      nodes.push({
        kind: 'path',
        pieces: [bar],
        closed: false,
        stroke: fineStroke(colour, fontPt),
        fill: null,
      });
    }
    nodes.push(drawMarker(centre, role, plot));
  }
  return nodes;
}
