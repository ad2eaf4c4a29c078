import { type ChartFigure, type Scale, type Scene, type View, valueAt } from '../../src/figure/index.ts';

export type ZoomView = View;

/** Two corners on the paper, points. */
export interface Spread {
  readonly from: { readonly x: number; readonly y: number };
  readonly to: { readonly x: number; readonly y: number };
}

type Range = readonly [number, number];

/** What lies between two corners; a drag along one direction keeps the other as it is. Null outside every panel. */
export function spreadToView(scene: Scene, figure: ChartFigure, { from, to }: Spread): ZoomView | null {
  const panel = scene.panels.findIndex(
    ({ box }) => from.x >= box.left && from.x <= box.right && from.y >= box.top && from.y <= box.bottom,
  );
  const placed = scene.panels[panel];
  if (placed === undefined) return null;
  const clampX = (x: number): number => Math.min(Math.max(x, placed.box.left), placed.box.right);
  const clampY = (y: number): number => Math.min(Math.max(y, placed.box.top), placed.box.bottom);
  const isWide = Math.abs(to.x - from.x) > 12;
  const isTall = Math.abs(to.y - from.y) > 12 && figure.panels[panel]?.y.kind !== 'rows';
  return {
    ...(isWide || figure.x.range === null ? {} : { x: figure.x.range }),
    ...(isWide ? { x: between(placed.x, clampX(from.x), clampX(to.x)) } : {}),
    y: scene.panels.map((one, index) => {
      if (isTall && index === panel) return between(one.y, clampY(from.y), clampY(to.y));
      return rangeOf(figure, index);
    }),
  };
}

/** Two places along the axis from left to right, as high as all panels. */
export function acrossHeight({ panels }: Scene, from: number, to: number): Spread {
  const [first] = panels;
  const last = panels.at(-1);
  const clamp = (x: number): number =>
    first === undefined ? x : Math.min(Math.max(x, first.box.left), first.box.right);
  return { from: { x: clamp(from), y: first?.box.top ?? 0 }, to: { x: clamp(to), y: last?.box.bottom ?? 0 } };
}

/** The values of the axis from left to right between which a drag lies, the lower first; null without an axis. */
export function stretchOf({ panels }: Scene, { from, to }: Spread): Range | null {
  const scale = panels[0]?.x;
  return scale === undefined ? null : between(scale, from.x, to.x);
}

/** The middle of what is shown, `factor` times as wide. */
export function scaleView(scene: Scene, figure: ChartFigure, factor: number): ZoomView {
  return {
    ...rangeAlongX(scene, (low, high) => {
      const middle = (low + high) / 2;
      const half = ((high - low) / 2) * factor;
      return [middle - half, middle + half];
    }),
    y: figure.panels.map((_, index) => rangeOf(figure, index)),
  };
}

/** The next part to the right (1) or to the left (−1). */
export function panView(scene: Scene, figure: ChartFigure, step: number): ZoomView {
  return {
    ...rangeAlongX(scene, (low, high) => {
      const by = ((high - low) / 4) * step;
      return [low + by, high + by];
    }),
    y: figure.panels.map((_, index) => rangeOf(figure, index)),
  };
}

function rangeAlongX(scene: Scene, move: (low: number, high: number) => Range): ZoomView {
  const scale = scene.panels[0]?.x;
  if (scale === undefined || scale.kind === 'log') return {};
  return { x: move(...scale.domain) };
}

function rangeOf(figure: ChartFigure, panel: number): Range | null {
  const axis = figure.panels[panel]?.y;
  return axis === undefined || axis.kind === 'rows' ? null : axis.range;
}

function between(scale: Scale, one: number, other: number): Range {
  const a = valueAt(scale, one);
  const b = valueAt(scale, other);
  return a < b ? [a, b] : [b, a];
}
