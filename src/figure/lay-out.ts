import type { Figure } from './figure.ts';
import type { Appearance } from './layout/appearance.ts';
import { layOutChart } from './layout/chart.ts';
import { layOutSchematic } from './layout/schematic.ts';
import type { Scene } from './scene.ts';

/** Gives everything in a figure its place, size and colour. */
export function layOut(figure: Figure, appearance: Appearance): Scene {
  return figure.kind === 'chart' ? layOutChart(figure, appearance) : layOutSchematic(figure, appearance);
}
