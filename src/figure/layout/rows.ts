import type { RowsAxis } from '../figure.ts';
import { breakText, cutText, measureText } from '../measure-text.ts';
import type { RichText } from '../rich-text.ts';
import { type Box, group, type SceneNode } from '../scene.ts';
import type { Appearance } from './appearance.ts';
import { SPACE } from './metrics.ts';

/** Labels take at most this share of the width; longer ones are broken in two lines, then cut. */
const WIDEST_LABEL = 0.4;
const WIDEST_VALUE = 0.3;

/** A row is this high against the font size, or higher where there is room; two lines need more than one. */
const ONE_LINE = 1.9;
const TWO_LINES = 2.9;

/** How the rows of an axis are set, before it is known where they stand. */
export interface RowPlan {
  readonly labels: readonly (readonly RichText[])[];
  readonly values: readonly RichText[];
  readonly labelWidthPt: number;
  /** Of the column of numbers: before their decimal marks and from there on. */
  readonly valueWidthPt: number;
  readonly behindMarkPt: number;
  readonly leastHeightPt: number;
}

/** Breaks the labels of rows into lines and finds how much room they need. */
export function planRows(axis: RowsAxis, { size }: Appearance): RowPlan {
  const { fontPt, widthPt } = size;
  if (size.shows === 'marks') {
    const none = axis.rows.map(() => []);
    return {
      labels: none,
      values: none,
      labelWidthPt: 0,
      valueWidthPt: 0,
      behindMarkPt: 0,
      leastHeightPt: 0,
    };
  }
  const labels = axis.rows.map(({ label }) => breakText(label, WIDEST_LABEL * widthPt, fontPt, 2));
  const values = axis.rows.map(({ value }) => cutText(value, WIDEST_VALUE * widthPt, fontPt));
  const widest = (texts: readonly RichText[]): number =>
    Math.max(0, ...texts.map((text) => measureText(text, fontPt)));
  const heading = cutText(axis.valueHeading, WIDEST_VALUE * widthPt, fontPt);
  const lines = Math.max(1, ...labels.map(({ length }) => length));
  const before = Math.max(0, ...values.map((value) => beforeMark(value, fontPt)));
  const behind = Math.max(
    0,
    ...values.map((value) => measureText(value, fontPt) - beforeMark(value, fontPt)),
  );
  return {
    labels,
    values,
    labelWidthPt: widest(labels.flat()),
    valueWidthPt: Math.max(before + behind, measureText(heading, fontPt)),
    behindMarkPt: behind,
    leastHeightPt: axis.rows.length * (lines === 1 ? ONE_LINE : TWO_LINES) * fontPt,
  };
}

/** Width of a number up to its decimal mark, or to the end of its whole digits. */
function beforeMark(value: RichText, fontPt: number): number {
  const [first] = value;
  if (first === undefined) return 0;
  const whole = /^[+\u2212]?\d*/u.exec(first.text)?.[0] ?? '';
  return measureText([{ ...first, text: whole }], fontPt);
}

/** Centres of the rows in a box, points. */
export function centresOf(count: number, { top, bottom }: Box): readonly number[] {
  return Array.from({ length: count }, (_, row) => top + ((row + 0.5) * (bottom - top)) / count);
}

/** Labels at the left, numbers at the right with their decimal marks below one another. */
export function drawRows(
  axis: RowsAxis,
  plan: RowPlan,
  box: Box,
  { theme, size }: Appearance,
): readonly SceneNode[] {
  if (size.shows === 'marks') return [];
  const { fontPt } = size;
  const centres = centresOf(axis.rows.length, box);
  const right = size.widthPt - SPACE.margin * fontPt;
  const texts: SceneNode[] = [];
  axis.rows.forEach((row, index) => {
    const colour = row.strong ? theme.ink : theme.quietInk;
    const lines = plan.labels[index] ?? [];
    lines.forEach((text, line) => {
      const offset = (line - (lines.length - 1) / 2) * 1.2 + SPACE.middle;
      texts.push({
        kind: 'text',
        at: { x: SPACE.margin * fontPt, y: centres[index] + offset * fontPt },
        anchor: 'start',
        sizePt: fontPt,
        colour,
        text,
      });
    });
    const value = plan.values[index] ?? [];
    if (value.length > 0) {
      const x = right - plan.behindMarkPt - beforeMark(value, fontPt);
      const at = { x, y: centres[index] + SPACE.middle * fontPt };
      texts.push({ kind: 'text', at, anchor: 'start', sizePt: fontPt, colour, text: value });
    }
  });
  const heading = cutText(axis.valueHeading, WIDEST_VALUE * size.widthPt, fontPt);
  if (heading.length > 0) {
    const at = { x: right, y: box.top - (SPACE.aboveBox + 0.3) * fontPt };
    texts.push({ kind: 'text', at, anchor: 'end', sizePt: fontPt, colour: theme.quietInk, text: heading });
  }
  return [group('rows', texts)];
}
