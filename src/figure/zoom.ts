import type { ChartFigure, NumberAxis } from './figure.ts';

/** Ranges to look at, in the units of the axes; what is left out stays as it is. */
export interface View {
  readonly x?: readonly [number, number];
  /** One a panel, from the top. */
  readonly y?: readonly (readonly [number, number] | null)[];
}

/** The same figure, showing a part of it. Ticks follow, and what lies outside is cut off. */
export function zoomFigure(figure: ChartFigure, view: View): ChartFigure {
  const look = (axis: NumberAxis, range: readonly [number, number] | null | undefined): NumberAxis =>
    range === null || range === undefined ? axis : { ...axis, range };
  return {
    ...figure,
    x: look(figure.x, view.x),
    panels: figure.panels.map((panel, index) =>
      panel.y.kind === 'rows' ? panel : { ...panel, y: look(panel.y, view.y?.[index]) },
    ),
  };
}
