import type { ChartFigure } from '../figure.ts';
import { breakText } from '../measure-text.ts';
import { group, type SceneNode } from '../scene.ts';
import type { Appearance } from './appearance.ts';
import { type Lines, layOutLegend } from './legend.ts';
import { SPACE } from './metrics.ts';

/** What stands above the plots: the statement, broken where it is longer than a line, then the legend. */
export function layOutHeader(figure: ChartFigure, appearance: Appearance): Lines {
  const { size, theme } = appearance;
  if (size.shows === 'marks') return { nodes: [], heightPt: 0 };
  const { fontPt } = size;
  const margin = SPACE.margin * fontPt;
  const width = size.widthPt - 2 * margin;
  const lines = figure.statement.flatMap((line) => breakText(line, width, fontPt, 3));
  const texts = lines.map(
    (text, index): SceneNode => ({
      kind: 'text',
      at: { x: margin, y: margin + (index * SPACE.line + SPACE.baseline) * fontPt },
      anchor: 'start',
      sizePt: fontPt,
      colour: theme.ink,
      text,
    }),
  );
  const statementPt = lines.length * SPACE.line * fontPt;
  const legend = layOutLegend(figure, margin + statementPt, appearance);
  const nodes = texts.length === 0 ? legend.nodes : [group('statement', texts), ...legend.nodes];
  const textPt = statementPt + legend.heightPt;
  return { nodes, heightPt: textPt === 0 ? 0 : textPt + SPACE.belowHeader * fontPt };
}
