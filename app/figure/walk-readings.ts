import { type ChartFigure, placing, type Reading, readAt, type Scene } from '../../src/figure/index.ts';

/**
 * The reading beside the one in hand, for a reader without a pointer: the next value of the same mark that is shown.
 *
 * @param reading null: begins with the first reading of the figure
 * @param step    1 to the right, −1 to the left
 */
export function walkReadings(
  figure: ChartFigure,
  scene: Scene,
  reading: Reading | null,
  step: number,
): Reading | null {
  for (const [panel, placed] of scene.panels.entries()) {
    if (reading !== null && reading.panel !== panel) continue;
    const placeX = placing(placed.x);
    const placeY = placing(placed.y);
    for (const mark of figure.panels[panel]?.marks ?? []) {
      if (mark.kind !== 'points' && mark.kind !== 'curve') continue;
      if (reading !== null && reading.mark !== mark) continue;
      const begin = reading === null ? (step > 0 ? 0 : mark.x.length - 1) : reading.index + step;
      for (let index = begin; index >= 0 && index < mark.x.length; index += step) {
        const at = { x: placeX(mark.x[index]), y: placeY(mark.y[index]) };
        const found = readAt({ ...figure, panels: onlyMark(figure, panel, mark) }, scene, at, 1);
        if (found !== null && found.index === index) return { ...found, mark };
      }
    }
  }
  return reading;
}

/** The figure with one mark alone, so that what is read is not another mark's value at the same place. */
function onlyMark(figure: ChartFigure, panel: number, mark: Reading['mark']): ChartFigure['panels'] {
  return figure.panels.map((one, index) => ({ ...one, marks: index === panel ? [mark] : [] }));
}
