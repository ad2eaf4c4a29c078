import type { SchematicBlock, SchematicFigure } from '../figure.ts';
import { fineStroke, solid } from '../marks/plot.ts';
import { breakText, measureText, splitWords } from '../measure-text.ts';
import type { RichText } from '../rich-text.ts';
import { type Box, group, type Scene, type SceneNode, type Spot } from '../scene.ts';
import type { Appearance } from './appearance.ts';
import { SPACE } from './metrics.ts';

const INSIDE = 0.6;
const BETWEEN_BLOCKS = 1;
const BETWEEN_LINES = 0.35;
const MOST_LINES = 12;

/** What rounding in sums of widths can take from a column, against the font size: a word that just fits is never cut. */
const ROUNDING = 0.02;

/** Text wider than this, against the font size, is broken; arrows are no longer than that. */
const MOST_COLUMN = 15;
const MOST_GAP = 7;

interface SetBlock {
  readonly heading: readonly RichText[];
  readonly lines: readonly (readonly RichText[])[];
  readonly heightPt: number;
}

/**
 * Lays out a schematic: columns of blocks from left to right, each as high as its text, an arrow from column to column
 * with what it carries above it. Where a column would be narrower than its words they stand one below another.
 */
export function layOutSchematic(figure: SchematicFigure, appearance: Appearance): Scene {
  const { size, theme } = appearance;
  const { fontPt, widthPt } = size;
  const margin = SPACE.margin * fontPt;
  const leads = figure.columns.slice(0, -1).map((column) => measureText(column.leads, fontPt) + 1.4 * fontPt);
  const gap = Math.min(Math.max(2.4 * fontPt, ...leads), MOST_GAP * fontPt);
  const room = widthPt - 2 * margin - Math.max(0, figure.columns.length - 1) * gap;
  const across = shareWidths(figure, room, fontPt);
  const widths = across ?? figure.columns.map(() => widthPt - 2 * margin);
  const set = figure.columns.map(({ blocks }, column) =>
    blocks.map((block) => setBlock(block, widths[column], appearance)),
  );
  const nodes: SceneNode[] = [];
  const bottom =
    across === null
      ? placeDown(figure, set, widthPt - 2 * margin, margin, appearance, nodes)
      : placeAcross(figure, set, widths, gap, margin, appearance, nodes);
  const footnote = size.shows === 'marks' ? [] : breakText(figure.footnote, widthPt - 2 * margin, fontPt, 2);
  footnote.forEach((text, index) => {
    const at = { x: margin, y: bottom + (index * SPACE.line + 0.6 + SPACE.baseline) * fontPt };
    nodes.push({ kind: 'text', at, anchor: 'start', sizePt: fontPt, colour: theme.quietInk, text });
  });
  return {
    name: figure.name,
    title: figure.title,
    description: figure.description,
    language: figure.language,
    widthPt,
    heightPt: bottom + (footnote.length === 0 ? 0 : footnote.length * SPACE.line + 0.6) * fontPt + margin,
    paper: theme.paper,
    nodes,
    panels: [],
  };
}

/** Widths of the columns by how much they say; null where one would be narrower than its words. */
function shareWidths(figure: SchematicFigure, room: number, fontPt: number): readonly number[] | null {
  const inside = (2 * INSIDE + ROUNDING) * fontPt;
  const needs = figure.columns.map(({ blocks }) => {
    const texts = blocks.flatMap(({ heading, lines }) => [heading, ...lines]);
    const longest = Math.max(0, ...texts.flatMap(splitWords).map((word) => measureText(word, fontPt)));
    const whole = Math.max(0, ...texts.map((text) => measureText(text, fontPt)));
    return { least: longest + inside, liked: Math.min(whole, MOST_COLUMN * fontPt) + inside };
  });
  const least = needs.reduce((sum, need) => sum + need.least, 0);
  const more = needs.reduce((sum, need) => sum + Math.max(0, need.liked - need.least), 0);
  if (least > room) return null;
  const share = more === 0 ? 0 : Math.min(1, (room - least) / more);
  return needs.map((need) => need.least + share * Math.max(0, need.liked - need.least));
}

function setBlock(block: SchematicBlock, width: number, { size }: Appearance): SetBlock {
  const { fontPt } = size;
  if (size.shows === 'marks') return { heading: [], lines: [], heightPt: 3 * fontPt };
  const room = width - 2 * INSIDE * fontPt;
  const heading = breakText(block.heading, room, fontPt, MOST_LINES);
  const lines = block.lines.map((line) => breakText(line, room, fontPt, MOST_LINES));
  const count = heading.length + lines.reduce((sum, { length }) => sum + length, 0);
  const between = lines.length === 0 ? 0 : 0.5 + (lines.length - 1) * BETWEEN_LINES;
  return { heading, lines, heightPt: (count * SPACE.line + 2 * INSIDE + between - 0.3) * fontPt };
}

function columnHeight(blocks: readonly SetBlock[], fontPt: number): number {
  const sum = blocks.reduce((total, { heightPt }) => total + heightPt, 0);
  return sum + Math.max(0, blocks.length - 1) * BETWEEN_BLOCKS * fontPt;
}

function placeAcross(
  figure: SchematicFigure,
  set: readonly (readonly SetBlock[])[],
  widths: readonly number[],
  gap: number,
  margin: number,
  appearance: Appearance,
  nodes: SceneNode[],
): number {
  const { fontPt } = appearance.size;
  const tallest = Math.max(2 * fontPt, ...set.map((blocks) => columnHeight(blocks, fontPt)));
  const middle = margin + tallest / 2;
  let left = margin;
  set.forEach((blocks, column) => {
    const width = widths[column];
    let top = middle - columnHeight(blocks, fontPt) / 2;
    for (const block of blocks) {
      const box = { left, right: left + width, top, bottom: top + block.heightPt };
      nodes.push(drawBlock(block, box, appearance));
      top = box.bottom + BETWEEN_BLOCKS * fontPt;
    }
    const start = { x: left + width, y: middle };
    left += width + gap;
    if (column === set.length - 1) return;
    const end = { x: left, y: middle };
    nodes.push(drawArrow(start, end, appearance));
    nodes.push(
      ...drawLead(
        figure.columns[column]?.leads ?? [],
        { x: (start.x + end.x) / 2, y: middle },
        gap,
        appearance,
      ),
    );
  });
  return margin + tallest;
}

function drawLead(leads: RichText, at: Spot, gap: number, { size, theme }: Appearance): readonly SceneNode[] {
  if (size.shows === 'marks' || leads.length === 0) return [];
  const { fontPt } = size;
  const lines = breakText(leads, gap - 0.4 * fontPt, fontPt, 3);
  return lines.map((text, index) => ({
    kind: 'text',
    at: { x: at.x, y: at.y - ((lines.length - 1 - index) * SPACE.line + 0.8) * fontPt },
    anchor: 'middle',
    sizePt: fontPt,
    colour: theme.quietInk,
    text,
  }));
}

function placeDown(
  figure: SchematicFigure,
  set: readonly (readonly SetBlock[])[],
  width: number,
  margin: number,
  appearance: Appearance,
  nodes: SceneNode[],
): number {
  const { size, theme } = appearance;
  const { fontPt } = size;
  let top = margin;
  set.forEach((blocks, column) => {
    blocks.forEach((block, index) => {
      const box = { left: margin, right: margin + width, top, bottom: top + block.heightPt };
      nodes.push(drawBlock(block, box, appearance));
      top = box.bottom + (index === blocks.length - 1 ? 0 : BETWEEN_BLOCKS * fontPt);
    });
    if (column === set.length - 1) return;
    const x = margin + 2 * fontPt;
    nodes.push(drawArrow({ x, y: top }, { x, y: top + 2 * fontPt }, appearance));
    const leads = figure.columns[column]?.leads ?? [];
    if (size.shows === 'everything' && leads.length > 0) {
      const [text = []] = breakText(leads, width - 3 * fontPt, fontPt, 1);
      const at = { x: x + 0.8 * fontPt, y: top + (1 + SPACE.middle) * fontPt };
      nodes.push({ kind: 'text', at, anchor: 'start', sizePt: fontPt, colour: theme.quietInk, text });
    }
    top += 2 * fontPt;
  });
  return top;
}

function drawBlock(block: SetBlock, box: Box, { size, theme }: Appearance): SceneNode {
  const { fontPt } = size;
  const corners: readonly Spot[] = [
    { x: box.left, y: box.top },
    { x: box.right, y: box.top },
    { x: box.right, y: box.bottom },
    { x: box.left, y: box.bottom },
  ];
  const nodes: SceneNode[] = [
    {
      kind: 'path',
      pieces: [corners],
      closed: true,
      stroke: fineStroke(theme.ink, fontPt),
      fill: solid(theme.paper),
    },
  ];
  const x = box.left + INSIDE * fontPt;
  let baseline = box.top + (INSIDE + 0.85) * fontPt;
  const write = (text: RichText, colour: string): void => {
    nodes.push({ kind: 'text', at: { x, y: baseline }, anchor: 'start', sizePt: fontPt, colour, text });
    baseline += SPACE.line * fontPt;
  };
  for (const text of block.heading) write(text, theme.ink);
  if (block.lines.length > 0) {
    const y = baseline - 0.95 * fontPt;
    const rule = [
      { x: box.left, y },
      { x: box.right, y },
    ];
    nodes.push({
      kind: 'path',
      pieces: [rule],
      closed: false,
      stroke: fineStroke(theme.guide, fontPt),
      fill: null,
    });
    baseline += 0.5 * fontPt;
  }
  for (const line of block.lines) {
    for (const text of line) write(text, theme.quietInk);
    baseline += BETWEEN_LINES * fontPt;
  }
  return group('block', nodes);
}

function drawArrow(from: Spot, to: Spot, { size, theme }: Appearance): SceneNode {
  const length = Math.hypot(to.x - from.x, to.y - from.y);
  const head = 0.7 * size.fontPt;
  const along = { x: (to.x - from.x) / length, y: (to.y - from.y) / length };
  const neck = { x: to.x - head * along.x, y: to.y - head * along.y };
  const side = { x: -along.y * head * 0.45, y: along.x * head * 0.45 };
  const stroke = { colour: theme.ink, widthPt: 0.11 * size.fontPt, dashPt: [] };
  return group('arrow', [
    { kind: 'path', pieces: [[from, neck]], closed: false, stroke, fill: null },
    {
      kind: 'path',
      pieces: [[to, { x: neck.x + side.x, y: neck.y + side.y }, { x: neck.x - side.x, y: neck.y - side.y }]],
      closed: true,
      stroke: null,
      fill: solid(theme.ink),
    },
  ]);
}
