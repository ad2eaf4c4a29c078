import type { SeriesRole } from '../figure.ts';
import type { Placing } from '../scale.ts';
import type { Box, Fill, Stroke } from '../scene.ts';
import { seriesStyles } from '../series-style.ts';
import type { Theme } from '../theme.ts';

/** Where and how a mark is drawn. */
export interface Plot {
  readonly box: Box;
  readonly placeX: Placing;
  readonly placeY: Placing;
  readonly theme: Theme;
  /** Size of the text, points: all sizes of marks follow it. */
  readonly fontPt: number;
  /** Rows of the axis where it has any: the y of each centre, and the height of a row, points. */
  readonly rows: { readonly centres: readonly number[]; readonly heightPt: number } | null;
}

/** Width of a usual line against the font size. */
const LINE = 0.11;

/** Width of the thinnest line, of error bars and outlines. */
const FINE = 0.085;

/** Half the width of a usual marker against the font size. */
export const MARKER = 0.27;

export function strokeOf(role: SeriesRole, plot: Pick<Plot, 'theme' | 'fontPt'>): Stroke {
  const { dash, weight } = seriesStyles[role];
  return {
    colour: plot.theme.colours[role],
    widthPt: LINE * weight * plot.fontPt,
    dashPt: dash.map((length) => (length * plot.fontPt) / 10),
  };
}

export function fineStroke(colour: string, fontPt: number): Stroke {
  return { colour, widthPt: FINE * fontPt, dashPt: [] };
}

export function solid(colour: string): Fill {
  return { colour, opacity: 1 };
}

/** Markers shrink where they would lie on one another; smaller still they could not be told apart. */
const SMALLEST = 0.45;

/** Half the width of a marker, points, where `count` of them share the width of the plot. */
export function markerSize(count: number, { box, fontPt }: Pick<Plot, 'box' | 'fontPt'>): number {
  const usual = MARKER * fontPt;
  const fits = (0.75 * (box.right - box.left)) / (2 * usual * Math.max(count, 1));
  return usual * Math.min(1, Math.max(SMALLEST, fits));
}
