import type { Glyphs } from './glyphs.ts';

/** One row of a waterfall: a total with its uncertainty, a step from one level to the next, or nothing to draw. */
export type WaterfallRow =
  | { readonly kind: 'total'; readonly value: number; readonly standardUncertainty: number }
  | { readonly kind: 'step'; readonly from: number; readonly to: number }
  | { readonly kind: 'rest'; readonly from: number; readonly to: number }
  | { readonly kind: 'blank' };

/**
 * Draws totals as points with whiskers of one standard uncertainty, and steps as arrows from where the last one ended.
 *
 * Up is to the right. An arrow's head shows its sign; a step too small for one character is a bar without a head.
 *
 * @param width characters a row, at least 8
 * @returns one text of `width` characters for each row
 */
export function drawWaterfall(rows: readonly WaterfallRow[], width: number, glyphs: Glyphs): string[] {
  const levels = rows.flatMap(levelsOf).filter(Number.isFinite);
  const low = Math.min(...levels);
  const high = Math.max(...levels);
  const span = high - low;
  const place = (level: number): number =>
    span === 0 ? Math.floor(width / 2) : Math.round(((level - low) / span) * (width - 1));
  return rows.map((row) => {
    const line = new Array<string>(width).fill(' ');
    if (row.kind === 'total' && Number.isFinite(row.value)) drawTotal(line, row, place, glyphs);
    if (row.kind === 'step' || row.kind === 'rest') {
      drawStep(
        line,
        place(row.from),
        place(row.to),
        row.kind === 'rest' ? glyphs.brokenShaft : glyphs.shaft,
        glyphs,
      );
    }
    return line.join('');
  });
}

function levelsOf(row: WaterfallRow): number[] {
  if (row.kind === 'blank') return [];
  if (row.kind !== 'total') return [row.from, row.to];
  const u = Number.isFinite(row.standardUncertainty) ? row.standardUncertainty : 0;
  return [row.value - u, row.value + u];
}

function drawTotal(
  line: string[],
  row: WaterfallRow & { readonly kind: 'total' },
  place: (level: number) => number,
  glyphs: Glyphs,
): void {
  const u = Number.isFinite(row.standardUncertainty) ? row.standardUncertainty : 0;
  const from = place(row.value - u);
  const to = place(row.value + u);
  line.fill(glyphs.whisker, from, to + 1);
  if (to > from) {
    line[from] = glyphs.whiskerLeft;
    line[to] = glyphs.whiskerRight;
  }
  line[place(row.value)] = glyphs.point;
}

function drawStep(line: string[], from: number, to: number, shaft: string, glyphs: Glyphs): void {
  if (!Number.isInteger(from) || !Number.isInteger(to)) return;
  if (from === to) {
    line[from] = glyphs.nothing;
    return;
  }
  line.fill(shaft, Math.min(from, to), Math.max(from, to) + 1);
  line[to] = to > from ? glyphs.right : glyphs.left;
}
