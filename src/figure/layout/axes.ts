import type { DecimalMark } from '../../quantity/index.ts';
import type { NumberAxis } from '../figure.ts';
import { cutText, measureText } from '../measure-text.ts';
import { placing, reachRound, type Scale } from '../scale.ts';
import { type Box, group, type PathNode, type SceneNode, type Spot } from '../scene.ts';
import { type Ticks, ticksOf } from '../ticks.ts';
import type { Appearance } from './appearance.ts';
import { axisTitle } from './axis-title.ts';
import { SPACE } from './metrics.ts';

/** Ticks of an axis that goes to the right: labels stand side by side. */
export function ticksAcross(scale: Scale, decimalMark: DecimalMark, { size }: Appearance): Ticks {
  return ticksOf(scale, decimalMark, {
    lengthPt: (label) => measureText(label, size.fontPt),
    gapPt: SPACE.betweenLabels * size.fontPt,
    usualPt: SPACE.betweenTicks * size.fontPt,
  });
}

/** Ticks of an axis that goes up: labels stand one above another. */
function ticksUp(scale: Scale, decimalMark: DecimalMark, { size }: Appearance): Ticks {
  return ticksOf(scale, decimalMark, {
    lengthPt: () => size.fontPt,
    gapPt: SPACE.betweenLines * size.fontPt,
    usualPt: SPACE.betweenTicks * size.fontPt,
  });
}

/**
 * An axis that goes up, from the values it must show. Where too few round values lie among them for a reader to tell
 * the scale, it reaches to the next ones.
 */
export function chooseUpScale(
  scale: Scale,
  isFree: boolean,
  decimalMark: DecimalMark,
  appearance: Appearance,
): { readonly scale: Scale; readonly ticks: Ticks } {
  const ticks = ticksUp(scale, decimalMark, appearance);
  if (ticks.labelled.length > 1 || scale.kind === 'log' || !isFree) return { scale, ticks };
  for (let count = 4; count >= 1; count--) {
    const wider = { ...scale, domain: reachRound(scale.domain, count) };
    const found = ticksUp(wider, decimalMark, appearance);
    if (found.labelled.length > 1) return { scale: wider, ticks: found };
  }
  return { scale, ticks };
}

/** Lines at the ticks, right through the plot, to guide the eye; they lie beneath all marks. */
export function drawGuides(
  box: Box,
  x: Scale,
  xTicks: Ticks,
  y: Scale | null,
  yTicks: Ticks | null,
  { theme, size }: Appearance,
): SceneNode {
  const placeX = placing(x);
  const pieces: Spot[][] = xTicks.labelled.map(({ value }) => [
    { x: placeX(value), y: box.top },
    { x: placeX(value), y: box.bottom },
  ]);
  if (y !== null && yTicks !== null) {
    const placeY = placing(y);
    pieces.push(
      ...yTicks.labelled.map(({ value }) => [
        { x: box.left, y: placeY(value) },
        { x: box.right, y: placeY(value) },
      ]),
    );
  }
  const stroke = { colour: theme.guide, widthPt: 0.06 * size.fontPt, dashPt: [] };
  return group(
    'guides',
    pieces.length === 0 ? [] : [{ kind: 'path', pieces, closed: false, stroke, fill: null }],
  );
}

/** The axis at the left of a box: line, ticks, labels, and its title above. */
export function drawUpAxis(
  axis: NumberAxis,
  box: Box,
  scale: Scale,
  ticks: Ticks,
  titleTopPt: number,
  appearance: Appearance,
): SceneNode {
  const { theme, size } = appearance;
  const { fontPt } = size;
  const place = placing(scale);
  const line = axisLine(
    [
      { x: box.left, y: box.top },
      { x: box.left, y: box.bottom },
    ],
    [
      ...ticks.labelled.map(({ value }) => tick({ x: box.left, y: place(value) }, -SPACE.tick * fontPt, 0)),
      ...ticks.bare.map((value) => tick({ x: box.left, y: place(value) }, -0.5 * SPACE.tick * fontPt, 0)),
    ],
    appearance,
  );
  if (size.shows === 'marks') return group('y axis', [line]);
  const labels = ticks.labelled.map(
    ({ value, label }): SceneNode => ({
      kind: 'text',
      at: { x: box.left - (SPACE.tick + SPACE.beside) * fontPt, y: place(value) + SPACE.middle * fontPt },
      anchor: 'end',
      sizePt: fontPt,
      colour: theme.quietInk,
      text: label,
    }),
  );
  const margin = SPACE.margin * fontPt;
  const title: SceneNode = {
    kind: 'text',
    at: { x: margin, y: titleTopPt + SPACE.baseline * fontPt },
    anchor: 'start',
    sizePt: fontPt,
    colour: theme.ink,
    text: cutText(axisTitle(axis, ticks.exponent), size.widthPt - 2 * margin, fontPt),
  };
  return group('y axis', [line, ...labels, title]);
}

/** The axis below a box; an upper panel has its line and ticks only. */
export function drawAcrossAxis(
  axis: NumberAxis,
  box: Box,
  scale: Scale,
  ticks: Ticks,
  isLast: boolean,
  appearance: Appearance,
): SceneNode {
  const { theme, size } = appearance;
  const { fontPt } = size;
  const place = placing(scale);
  const line = axisLine(
    [
      { x: box.left, y: box.bottom },
      { x: box.right, y: box.bottom },
    ],
    [
      ...ticks.labelled.map(({ value }) => tick({ x: place(value), y: box.bottom }, 0, SPACE.tick * fontPt)),
      ...ticks.bare.map((value) => tick({ x: place(value), y: box.bottom }, 0, 0.5 * SPACE.tick * fontPt)),
    ],
    appearance,
  );
  if (size.shows === 'marks' || !isLast) return group('x axis', [line]);
  const labelBaseline = box.bottom + (SPACE.tick + 1.05) * fontPt;
  const labels = ticks.labelled.map(
    ({ value, label }): SceneNode => ({
      kind: 'text',
      at: { x: place(value), y: labelBaseline },
      anchor: 'middle',
      sizePt: fontPt,
      colour: theme.quietInk,
      text: label,
    }),
  );
  const title: SceneNode = {
    kind: 'text',
    at: { x: box.right, y: labelBaseline + SPACE.line * fontPt },
    anchor: 'end',
    sizePt: fontPt,
    colour: theme.ink,
    text: cutText(axisTitle(axis, ticks.exponent), box.right - SPACE.margin * fontPt, fontPt),
  };
  return group('x axis', [line, ...labels, title]);
}

/** Room below the last box for ticks, labels and title. */
export const BELOW_BOX = SPACE.tick + 1.05 + SPACE.line + 0.35;

function axisLine(
  line: readonly Spot[],
  ticks: readonly (readonly Spot[])[],
  { theme, size }: Appearance,
): PathNode {
  const stroke = { colour: theme.quietInk, widthPt: 0.085 * size.fontPt, dashPt: [] };
  return { kind: 'path', pieces: [line, ...ticks], closed: false, stroke, fill: null };
}

function tick(from: Spot, dx: number, dy: number): readonly Spot[] {
  return [from, { x: from.x + dx, y: from.y + dy }];
}
