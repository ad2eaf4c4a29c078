import * as fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  type ChartFigure,
  figureToSvg,
  italic,
  layOut,
  lightTheme,
  type Mark,
  numberAxis,
  placing,
  sizes,
  upright,
} from '../../src/figure/index.ts';
import { ENGLISH } from './figures.ts';
import { elementsOf, numberOf, parseSvg, partsOf, piecesOf } from './parse-svg.ts';

function figureOf(mark: Mark, kind: 'linear' | 'log' = 'linear'): ChartFigure {
  return {
    kind: 'chart',
    name: 'series',
    title: 'series',
    description: '',
    ...ENGLISH,
    statement: [],
    x: numberAxis(italic('t'), 's', { kind }),
    panels: [{ y: numberAxis(italic('y'), 'm', { kind }), share: 1, marks: [mark] }],
  };
}

const appearance = { theme: lightTheme, size: sizes.column };

describe('a series of 100 000 readings', () => {
  const n = 100_000;
  const x = Float64Array.from({ length: n }, (_, i) => i / n);
  const y = x.map((t, i) => Math.sin(20 * t) + (i === 31_415 ? 5 : 0) + (i === 92_653 ? -5 : 0));

  it.each(['curve', 'points'] as const)(
    'as %s keeps its single highest and lowest value, in a small file',
    (kind) => {
      const named = { role: 'measured', name: upright('measured'), x, y } as const;
      const figure = figureOf(kind === 'curve' ? { kind, ...named } : { kind, ...named, ux: null, uy: null });
      const svg = figureToSvg(figure, appearance);
      const [panel] = layOut(figure, appearance).panels;
      if (panel === undefined) throw new Error('no panel');
      const root = parseSvg(svg);
      const spots =
        kind === 'points'
          ? partsOf(root, 'points')
              .flatMap((group) => elementsOf(group, 'circle'))
              .map((circle) => [numberOf(circle, 'cx'), numberOf(circle, 'cy')])
          : partsOf(root, 'curve').flatMap((group) =>
              elementsOf(group, 'path').flatMap((path) => piecesOf(path).flat()),
            );
      const place = placing(panel.y);
      const ys = spots.map(([, at]) => at);
      expect(Math.min(...ys)).toBeCloseTo(place(Math.max(...y)), 3);
      expect(Math.max(...ys)).toBeCloseTo(place(Math.min(...y)), 3);
      expect(svg.length).toBeLessThan(300_000);
    },
  );
});

it('thins a line so that in every column the drawn extremes are those of the data', () => {
  fc.assert(
    fc.property(
      fc.array(fc.double({ noNaN: true, min: -1, max: 1 }), { minLength: 3000, maxLength: 6000 }),
      (values) => {
        const x = values.map((_, i) => i);
        const figure = figureOf({ kind: 'curve', role: 'full', name: [], x, y: values });
        const [panel] = layOut(figure, appearance).panels;
        if (panel === undefined) throw new Error('no panel');
        const [path] = partsOf(parseSvg(figureToSvg(figure, appearance)), 'curve').flatMap((group) =>
          elementsOf(group, 'path'),
        );
        const drawn = piecesOf(path).flat();
        const place = { x: placing(panel.x), y: placing(panel.y) };
        const columns = new Map<number, { low: number; high: number }>();
        const note = (at: number, value: number): void => {
          const column = Math.floor(at / 0.5);
          const known = columns.get(column);
          columns.set(column, {
            low: Math.min(known?.low ?? value, value),
            high: Math.max(known?.high ?? value, value),
          });
        };
        values.forEach((value, i) => {
          note(place.x(i), place.y(value));
        });
        const wanted = new Map(columns);
        columns.clear();
        for (const [at, value] of drawn) note(at, value);
        let worst = 0;
        for (const [column, { low, high }] of columns) {
          const own = wanted.get(column);
          // A place rounded to four decimals may fall into the next column.
          if (own === undefined) continue;
          worst = Math.max(worst, own.low - low, high - own.high);
        }
        expect(worst).toBeLessThan(1e-3);
        expect(Math.min(...drawn.map(([, at]) => at))).toBeCloseTo(place.y(Math.max(...values)), 3);
      },
    ),
    { seed: 6, numRuns: 5 },
  );
});

it('leaves a gap where a value is missing, and draws both sides', () => {
  const figure = figureOf({
    kind: 'curve',
    role: 'full',
    name: [],
    x: [0, 1, 2, 3, 4],
    y: [0, 1, Number.NaN, 1, 0],
  });
  const [path] = partsOf(parseSvg(figureToSvg(figure)), 'curve').flatMap((group) =>
    elementsOf(group, 'path'),
  );
  expect(piecesOf(path).map((piece) => piece.length)).toEqual([2, 2]);
});

it('draws a power law as a straight line on logarithmic axes, its slope the exponent', () => {
  const x = [0.001, 0.01, 0.1, 1];
  const figure = figureOf(
    { kind: 'curve', role: 'full', name: [], x, y: x.map((value) => 3 * value ** 2) },
    'log',
  );
  const [panel] = layOut(figure, appearance).panels;
  if (panel === undefined) throw new Error('no panel');
  const [path] = partsOf(parseSvg(figureToSvg(figure, appearance)), 'curve').flatMap((group) =>
    elementsOf(group, 'path'),
  );
  const [spots] = piecesOf(path);
  const decadePt = (scale: typeof panel.x): number => Math.abs(placing(scale)(10) - placing(scale)(1));
  for (let i = 1; i < spots.length; i++) {
    const dx = (spots[i][0] - spots[i - 1][0]) / decadePt(panel.x);
    const dy = (spots[i - 1][1] - spots[i][1]) / decadePt(panel.y);
    expect(dy / dx).toBeCloseTo(2, 4);
  }
});

describe('ticks', () => {
  const labelsOf = (figure: ChartFigure, axis: 'x axis' | 'y axis'): readonly string[] =>
    partsOf(parseSvg(figureToSvg(figure)), axis)
      .flatMap((group) => elementsOf(group, 'text'))
      .map((text) => text.textContent ?? '');

  it('leave powers of ten beyond the usual to the title of the axis', () => {
    const tiny = figureOf({ kind: 'curve', role: 'full', name: [], x: [0, 3.2e-5], y: [0, 4.1e8] });
    expect(labelsOf(tiny, 'x axis')).toContain('t\u00a0/\u00a0(10−6 s)');
    expect(labelsOf(tiny, 'x axis')).toContain('30');
    expect(labelsOf(tiny, 'y axis')).toContain('y\u00a0/\u00a0(106 m)');
    expect(labelsOf(tiny, 'y axis')).toContain('400');
  });

  it('have equal decimals', () => {
    const figure = figureOf({ kind: 'curve', role: 'full', name: [], x: [0, 1.5], y: [2.21, 2.23] });
    expect(labelsOf(figure, 'x axis').filter((label) => /^\d/.test(label))).toEqual(
      expect.arrayContaining(['0.0', '0.2', '1.0', '1.4']),
    );
    const decimals = labelsOf(figure, 'y axis').filter((label) => /^\d/.test(label));
    expect(new Set(decimals.map((label) => label.split('.')[1]?.length)).size).toBe(1);
  });

  it('are powers of ten over many decades, set with exponents', () => {
    const figure = figureOf({ kind: 'curve', role: 'full', name: [], x: [1e-9, 1], y: [0.01, 100] }, 'log');
    expect(labelsOf(figure, 'x axis')).toEqual(expect.arrayContaining(['10−9', '10−8', '100']));
    expect(labelsOf(figure, 'y axis')).toEqual(expect.arrayContaining(['0.01', '0.1', '1', '10', '100']));
  });

  it('tell the scale of a low panel by two labels at least', () => {
    for (const top of [0.9, 1.1, 3.3, 4.8, 5.1, 7, 9.9]) {
      const figure: ChartFigure = {
        ...figureOf({ kind: 'curve', role: 'full', name: [], x: [0, 1], y: [0, 1] }),
        panels: [3, 1].map((share) => ({
          y: numberAxis(italic('y'), 'm'),
          share,
          marks: [{ kind: 'curve', role: 'full', name: [], x: [0, 1], y: [-top, top] }],
        })),
      };
      const lower = partsOf(parseSvg(figureToSvg(figure)), 'y axis').at(-1);
      const labels =
        lower === undefined
          ? []
          : elementsOf(lower, 'text').filter((text) => text.getAttribute('text-anchor') === 'end');
      expect(labels.length, String(top)).toBeGreaterThan(1);
    }
  });
});
