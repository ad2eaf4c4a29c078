import { expect, it } from 'vitest';
import {
  type ChartFigure,
  darkTheme,
  figureToSvg,
  fitFigure,
  layOut,
  lightTheme,
  placing,
  type Scene,
  sizes,
  valueAt,
  zoomFigure,
} from '../../src/figure/index.ts';
import { ENGLISH } from './figures.ts';
import { elementsOf, numberOf, parseSvg, partsOf, piecesOf } from './parse-svg.ts';
import { fitReport } from './results.ts';

const report = fitReport();
const figure = fitFigure(report, ENGLISH);
const appearance = { theme: lightTheme, size: sizes.column };
const scene = layOut(figure, appearance);
const root = parseSvg(figureToSvg(figure, appearance));

function panelOf(of: Scene, index: number): Scene['panels'][number] {
  const panel = of.panels[index];
  if (panel === undefined) throw new Error(`no panel ${index}`);
  return panel;
}

it('gives back every reading from its place in the SVG, to 1e-6 of the axis', () => {
  const [points, residuals] = partsOf(root, 'points', 'measured');
  for (const [group, values, index] of [
    [points, report.y.values, 0],
    [residuals, report.residuals, 1],
  ] as const) {
    const { x, y } = panelOf(scene, index);
    const circles = elementsOf(group, 'circle');
    expect(circles).toHaveLength(values.length);
    circles.forEach((circle, i) => {
      const spanX = x.domain[1] - x.domain[0];
      const spanY = y.domain[1] - y.domain[0];
      expect(Math.abs(valueAt(x, numberOf(circle, 'cx')) - report.x.values[i]) / spanX).toBeLessThan(1e-6);
      expect(Math.abs(valueAt(y, numberOf(circle, 'cy')) - values[i]) / spanY).toBeLessThan(1e-6);
    });
  }
});

it('draws bars from y − u to y + u', () => {
  const [points] = partsOf(root, 'points', 'measured');
  const place = placing(panelOf(scene, 0).y);
  const bars = elementsOf(points, 'path');
  expect(bars).toHaveLength(report.y.values.length);
  bars.forEach((bar, i) => {
    const [[low, high]] = piecesOf(bar);
    const u = report.y.u?.[i] ?? Number.NaN;
    expect(low[1]).toBeCloseTo(place(report.y.values[i] - u), 3);
    expect(high[1]).toBeCloseTo(place(report.y.values[i] + u), 3);
  });
});

it('draws the line through the fitted values at the first and the last reading', () => {
  const [curve] = partsOf(root, 'curve', 'fit').flatMap((group) => elementsOf(group, 'path'));
  const [[start, end]] = piecesOf(curve);
  const { x, y } = panelOf(scene, 0);
  const last = report.x.values.length - 1;
  expect(valueAt(x, start[0])).toBeCloseTo(report.x.values[0], 5);
  expect(valueAt(y, start[1])).toBeCloseTo(report.fitted[0], 5);
  expect(valueAt(x, end[0])).toBeCloseTo(report.x.values[last], 5);
  expect(valueAt(y, end[1])).toBeCloseTo(report.fitted[last], 5);
});

it('draws the band as wide as the standard error of a fitted line, s·√(1/n + (x − x̄)²/Sxx)', () => {
  // Closed form: N. R. Draper, H. Smith, Applied Regression Analysis, 3rd edition (1998), section 3.1.
  const [band] = partsOf(root, 'band', 'fit').flatMap((group) => elementsOf(group, 'path'));
  const [outline] = piecesOf(band);
  const { x, y } = panelOf(scene, 0);
  const n = report.x.values.length;
  const mean = report.x.values.reduce((sum, value) => sum + value, 0) / n;
  const sxx = report.x.values.reduce((sum, value) => sum + (value - mean) ** 2, 0);
  const s = Math.sqrt(report.residuals.reduce((sum, value) => sum + value ** 2, 0) / (n - 2));
  const half = outline.length / 2;
  for (let i = 0; i < half; i++) {
    const [atX, high] = outline[i];
    const [, low] = outline[outline.length - 1 - i];
    const width = valueAt(y, high) - valueAt(y, low);
    expect(width / 2).toBeCloseTo(s * Math.sqrt(1 / n + (valueAt(x, atX) - mean) ** 2 / sxx), 5);
  }
});

it('aligns the panels: one x scale, the residuals below the readings', () => {
  const [upper, lower] = [panelOf(scene, 0), panelOf(scene, 1)];
  expect(lower.x).toEqual(upper.x);
  expect(lower.box.top).toBeGreaterThan(upper.box.bottom);
  expect(lower.box.bottom).toBeLessThan(scene.heightPt);
});

it('puts ticks at the values that their labels name', () => {
  const [axis] = partsOf(root, 'x axis').slice(-1);
  const labels = elementsOf(axis, 'text').filter((text) => text.getAttribute('text-anchor') === 'middle');
  expect(labels.length).toBeGreaterThan(4);
  const { x } = panelOf(scene, 1);
  for (const label of labels) {
    expect(valueAt(x, numberOf(label, 'x'))).toBeCloseTo(Number(label.textContent), 5);
  }
});

it('is as wide and high as asked for, in every size', () => {
  for (const size of Object.values(sizes)) {
    const laid = layOut(figure, { theme: darkTheme, size });
    expect(laid.widthPt).toBe(size.widthPt);
    expect(laid.heightPt).toBeCloseTo(size.heightPt, 6);
  }
});

it('shows a part when zoomed, cut off at the edges, and nothing of what lies outside', () => {
  const view = { x: [0.4, 0.6], y: [[0.5, 1.5], null] } as const;
  const zoomed: ChartFigure = zoomFigure(figure, view);
  const laid = layOut(zoomed, appearance);
  const { x, y, box } = panelOf(laid, 0);
  expect(x.domain).toEqual([0.4, 0.6]);
  expect(y.domain).toEqual([0.5, 1.5]);
  const svg = parseSvg(figureToSvg(zoomed, appearance));
  const [points] = partsOf(svg, 'points', 'measured');
  const inside = report.x.values.filter(
    (value, i) => value >= 0.4 && value <= 0.6 && report.y.values[i] >= 0.5 && report.y.values[i] <= 1.5,
  );
  expect(elementsOf(points, 'circle')).toHaveLength(inside.length);
  const [curve] = partsOf(svg, 'curve', 'fit').flatMap((group) => elementsOf(group, 'path'));
  const [[start, end]] = piecesOf(curve);
  expect(start[0]).toBeCloseTo(box.left, 3);
  expect(end[0]).toBeCloseTo(box.right, 3);
});

it('gives the same bytes every time', () => {
  expect(figureToSvg(figure, appearance)).toBe(figureToSvg(fitFigure(fitReport(), ENGLISH), appearance));
});
