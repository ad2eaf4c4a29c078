import { domainOf, PADDING } from '../domain.ts';
import type { ChartFigure, Mark, NumberAxis, Panel, RuleMark } from '../figure.ts';
import type { Plot } from '../marks/plot.ts';
import { measureText } from '../measure-text.ts';
import { placing, type Scale } from '../scale.ts';
import type { Box, PlacedPanel, Scene, SceneNode } from '../scene.ts';
import type { Ticks } from '../ticks.ts';
import { phrasesOf } from '../wording.ts';
import type { Appearance } from './appearance.ts';
import { BELOW_BOX, chooseUpScale, drawAcrossAxis, drawGuides, drawUpAxis, ticksAcross } from './axes.ts';
import { layOutHeader } from './header.ts';
import { drawMarks } from './marks.ts';
import { SPACE } from './metrics.ts';
import { centresOf, drawRows, planRows, type RowPlan } from './rows.ts';
import { placeRuleLabels } from './rule-labels.ts';
import { shareHeights } from './share-heights.ts';

/** A panel whose height is known and whose width is not yet. */
interface PlannedPanel {
  readonly panel: Panel;
  readonly titleTopPt: number;
  readonly topPt: number;
  readonly bottomPt: number;
  readonly y: { readonly scale: Scale; readonly ticks: Ticks; readonly axis: NumberAxis } | null;
  readonly rows: RowPlan | null;
}

/** Least height of a plot against the font size: below, nothing could be read from it. */
const LEAST_PLOT = 4;

/** Half the height of the largest marker, against the font size. */
const MARKER_ROOM = 0.5;

/** Lays out a figure with axes: header, panels one above another, one x axis for all. */
export function layOutChart(figure: ChartFigure, appearance: Appearance): Scene {
  const { size, theme } = appearance;
  const { fontPt } = size;
  const bare = size.shows === 'marks';
  const margin = SPACE.margin * fontPt;
  const header = layOutHeader(figure, appearance);
  const domain = domainOf(
    figure.x,
    figure.panels.flatMap(({ marks }) => marks),
    'x',
  );
  const rowPlans = figure.panels.map(({ y }) => (y.kind === 'rows' ? planRows(y, appearance) : null));
  const sides = sidesOf(figure, rowPlans, domain, appearance);
  const x: Scale = { kind: figure.x.kind, domain, range: [sides.left, sides.right] };
  const labels = figure.panels.map(({ marks }) =>
    placeRuleLabels(bare ? [] : marks.filter(isUprightRule), placing(x), sides, appearance),
  );
  const headings = figure.panels.map((panel, index) =>
    headingPt(panel, labels[index]?.rows ?? 0, appearance),
  );
  const { planned, heightPt } = stackPanels(figure, headings, rowPlans, margin + header.heightPt, appearance);
  const xTicks = ticksAcross(x, figure.decimalMark, appearance);
  const nodes: SceneNode[] = [...header.nodes];
  const panels: PlacedPanel[] = [];
  let thinned = false;
  planned.forEach(({ panel, titleTopPt, topPt, bottomPt, y, rows }, index) => {
    const box: Box = { left: sides.left, right: sides.right, top: topPt, bottom: bottomPt };
    const isLast = index === planned.length - 1;
    const scale: Scale = y?.scale ?? { kind: 'linear', domain: [0, 1], range: [bottomPt, topPt] };
    const plot: Plot = {
      box,
      placeX: placing(x),
      placeY: placing(scale),
      theme,
      fontPt,
      rows: panel.y.kind === 'rows' ? rowsOf(panel.y.rows.length, box) : null,
    };
    if (!bare) nodes.push(drawGuides(box, x, xTicks, y?.scale ?? null, y?.ticks ?? null, appearance));
    const drawn = drawMarks(panel.marks, plot);
    thinned ||= drawn.some((mark) => mark.thinned);
    nodes.push(...drawn.map(({ node }) => node));
    nodes.push(drawAcrossAxis(figure.x, box, x, xTicks, isLast, appearance));
    if (y !== null) nodes.push(drawUpAxis(y.axis, box, y.scale, y.ticks, titleTopPt, appearance));
    if (panel.y.kind === 'rows' && rows !== null) nodes.push(...drawRows(panel.y, rows, box, appearance));
    nodes.push(...(labels[index]?.draw(topPt) ?? []));
    panels.push({ box, x, y: scale });
  });
  const notes = thinned ? [phrasesOf(figure.language).thinned] : [];
  return {
    name: figure.name,
    title: figure.title,
    description: [figure.description, ...notes].join(' '),
    language: figure.language,
    widthPt: size.widthPt,
    heightPt,
    paper: theme.paper,
    nodes,
    panels,
  };
}

function isUprightRule(mark: Mark): mark is RuleMark {
  return mark.kind === 'rule' && mark.along === 'x';
}

function rowsOf(count: number, box: Box): Plot['rows'] {
  return { centres: centresOf(count, box), heightPt: (box.bottom - box.top) / count };
}

/** Height of what stands between a panel's top and its plot. */
function headingPt({ y }: Panel, ruleRows: number, { size }: Appearance): number {
  if (size.shows === 'marks') return 0;
  const hasTitle = y.kind !== 'rows' || y.valueHeading.length > 0;
  return ((hasTitle ? SPACE.line : 0) + ruleRows * SPACE.line + SPACE.aboveBox) * size.fontPt;
}

function stackPanels(
  figure: ChartFigure,
  headings: readonly number[],
  rowPlans: readonly (RowPlan | null)[],
  topPt: number,
  appearance: Appearance,
): { readonly planned: readonly PlannedPanel[]; readonly heightPt: number } {
  const { size } = appearance;
  const { fontPt } = size;
  const below = size.shows === 'marks' ? SPACE.margin * fontPt : BELOW_BOX * fontPt;
  const gaps = (figure.panels.length - 1) * SPACE.betweenPanels * fontPt;
  const taken = topPt + headings.reduce((sum, height) => sum + height, 0) + gaps + below;
  const bare = size.shows === 'marks';
  const needs = figure.panels.map(({ share }, index) => {
    const plan = rowPlans[index] ?? null;
    const leastPt = bare ? 1 : Math.max(LEAST_PLOT * fontPt, plan?.leastHeightPt ?? 0);
    return { share, leastPt, isFixed: !bare && plan !== null };
  });
  const heights = shareHeights(needs, size.heightPt - taken);
  let y = topPt;
  const planned = figure.panels.map((panel, index): PlannedPanel => {
    const titleTopPt = y;
    const boxTop = y + headings[index];
    const boxBottom = boxTop + heights[index];
    y = boxBottom + SPACE.betweenPanels * fontPt;
    return {
      panel,
      titleTopPt,
      topPt: boxTop,
      bottomPt: boxBottom,
      y:
        panel.y.kind === 'rows'
          ? null
          : upAxis(panel.y, panel.marks, [boxBottom, boxTop], figure, appearance),
      rows: rowPlans[index] ?? null,
    };
  });
  return { planned, heightPt: y - SPACE.betweenPanels * fontPt + below };
}

function upAxis(
  axis: NumberAxis,
  marks: readonly Mark[],
  range: readonly [number, number],
  figure: ChartFigure,
  appearance: Appearance,
): PlannedPanel['y'] {
  const { fontPt } = appearance.size;
  // A marker at the edge needs room for its other half.
  const marker = (MARKER_ROOM * fontPt) / Math.abs(range[1] - range[0]);
  const padding = marks.some(({ kind }) => kind === 'points') ? Math.max(PADDING, marker) : PADDING;
  const scale: Scale = { kind: axis.kind, domain: domainOf(axis, marks, 'y', padding), range };
  return { ...chooseUpScale(scale, axis.range === null, figure.decimalMark, appearance), axis };
}

/** The left and right of all plots: labels of every panel and of the last tick below must have room. */
function sidesOf(
  figure: ChartFigure,
  rowPlans: readonly (RowPlan | null)[],
  domain: readonly [number, number],
  appearance: Appearance,
): { readonly left: number; readonly right: number } {
  const { size } = appearance;
  const { fontPt, widthPt } = size;
  const margin = SPACE.margin * fontPt;
  if (size.shows === 'marks') return { left: margin, right: widthPt - margin };
  const widest = figure.panels.map((panel, index) => {
    const plan = rowPlans[index] ?? null;
    if (panel.y.kind === 'rows') return plan === null ? 0 : plan.labelWidthPt + fontPt;
    // The height is not known yet; labels of a low and of a high plot are about as wide.
    const guess = upAxis(
      panel.y,
      panel.marks,
      [size.heightPt * (panel.share / totalShare(figure)), 0],
      figure,
      appearance,
    );
    const labels = guess?.ticks.labelled ?? [];
    return (
      Math.max(0, ...labels.map(({ label }) => measureText(label, fontPt))) +
      (SPACE.tick + SPACE.beside) * fontPt
    );
  });
  const values = rowPlans.map((plan) => (plan === null ? 0 : plan.valueWidthPt + fontPt));
  const left = margin + Math.max(...widest, fontPt);
  const right = widthPt - margin - Math.max(...values, 0);
  const scale: Scale = { kind: figure.x.kind, domain, range: [left, right] };
  const reach = reachOf(ticksAcross(scale, figure.decimalMark, appearance), scale, fontPt);
  return {
    left: left + Math.max(0, margin - reach.left),
    right: right - Math.max(0, reach.right - (widthPt - margin)),
  };
}

function totalShare(figure: ChartFigure): number {
  return figure.panels.reduce((sum, { share }) => sum + share, 0);
}

/** The outermost places that the labels below the plot take. */
function reachOf(
  ticks: Ticks,
  scale: Scale,
  fontPt: number,
): { readonly left: number; readonly right: number } {
  const place = placing(scale);
  const spans = ticks.labelled.map(({ value, label }) => ({
    at: place(value),
    half: measureText(label, fontPt) / 2,
  }));
  return {
    left: Math.min(Number.POSITIVE_INFINITY, ...spans.map(({ at, half }) => at - half)),
    right: Math.max(Number.NEGATIVE_INFINITY, ...spans.map(({ at, half }) => at + half)),
  };
}
