import * as fc from 'fast-check';
import { expect, it } from 'vitest';
import {
  type ChartFigure,
  darkTheme,
  figureToSvg,
  fitFigure,
  italic,
  layOut,
  ledgerFigure,
  lightTheme,
  type Mark,
  numberAxis,
  type PlacedPanel,
  type SeriesRole,
  schematicFigure,
  sizes,
  upright,
} from '../../src/figure/index.ts';
import { fallingPipeline } from './falling-lab.ts';
import { ENGLISH } from './figures.ts';
import { elementsOf, numberOf, parseSvg, partsOf, piecesOf } from './parse-svg.ts';
import { fitReport, gapLedger, labResult } from './results.ts';

const anyNumber = fc.oneof(
  fc.double({ noNaN: true, noDefaultInfinity: true }),
  fc.double({ noNaN: true, min: -1e3, max: 1e3 }),
  fc.integer({ min: -5, max: 5 }),
);
const sometimesMissing = fc.oneof(
  { weight: 9, arbitrary: anyNumber },
  { weight: 1, arbitrary: fc.constant(Number.NaN) },
);
const role = fc.constantFrom<SeriesRole>('measured', 'fit', 'full', 'ideal', 'theory', 'quiet');
const size = fc.constantFrom(...Object.values(sizes));

/** The same count of numbers in several columns. */
function columns(count: number) {
  return fc
    .array(fc.tuple(...Array.from({ length: count }, () => sometimesMissing)), { maxLength: 30 })
    .map((rows) => Array.from({ length: count }, (_, column) => rows.map((row) => row[column])));
}

const anyMark: fc.Arbitrary<Mark> = fc.oneof(
  fc.tuple(role, columns(4)).map(
    ([own, [x, y, ux, uy]]): Mark => ({
      kind: 'points',
      role: own,
      name: upright('points'),
      x,
      y,
      ux: ux.map(Math.abs),
      uy: uy.map(Math.abs),
    }),
  ),
  fc
    .tuple(role, columns(2))
    .map(([own, [x, y]]): Mark => ({ kind: 'curve', role: own, name: upright('curve'), x, y })),
  fc
    .tuple(role, columns(3))
    .map(([own, [x, low, high]]): Mark => ({ kind: 'band', role: own, name: [], x, low, high })),
  fc.tuple(role, anyNumber, fc.boolean()).map(
    ([own, at, up]): Mark => ({
      kind: 'rule',
      role: own,
      name: upright('rule'),
      along: up ? 'x' : 'y',
      at,
      label: upright('rule'),
    }),
  ),
  fc.tuple(role, anyNumber, anyNumber, fc.boolean()).map(
    ([own, from, to, hatched]): Mark => ({
      kind: 'region',
      role: own,
      look: hatched ? 'hatched' : 'tinted',
      name: upright('region'),
      from,
      to,
    }),
  ),
  fc.tuple(role, fc.array(anyNumber, { minLength: 2, maxLength: 12 })).map(
    ([own, edges]): Mark => ({
      kind: 'bars',
      role: own,
      name: upright('bars'),
      edges: [...edges].sort((a, b) => a - b),
      heights: edges.slice(1).map((value) => Math.abs(value)),
    }),
  ),
);

function chart(
  marks: readonly Mark[],
  kinds: readonly ('linear' | 'log')[],
  more: Partial<ChartFigure> = {},
): ChartFigure {
  return {
    kind: 'chart',
    name: 'any',
    title: 'any',
    description: 'any',
    ...ENGLISH,
    statement: [],
    x: numberAxis(italic('x'), 'm', { kind: kinds[0] }),
    panels: [
      { y: numberAxis(italic('y'), 'm²/s²', { kind: kinds[1] }), share: 2, marks },
      { y: numberAxis(italic('z'), ''), share: 1, marks: marks.slice(0, 1) },
    ],
    ...more,
  };
}

const SHAPES = ['points', 'curve', 'band', 'rule', 'region', 'bars'] as const;

/** All places that the marks of an SVG take must lie in one of its plots; of markers their centres. */
function expectInside(svg: string, panels: readonly PlacedPanel[]): void {
  const root = parseSvg(svg);
  const spots = SHAPES.flatMap((part) =>
    partsOf(root, part).flatMap((group) => [
      ...elementsOf(group, 'circle').map(
        (circle) => [numberOf(circle, 'cx'), numberOf(circle, 'cy')] as const,
      ),
      // Outlines of markers may reach over the edge; their centres are told by the discs.
      ...(part === 'points' ? [] : elementsOf(group, 'path').flatMap((path) => piecesOf(path).flat())),
    ]),
  );
  const outside = spots.filter(
    ([x, y]) =>
      !panels.some(
        ({ box }) =>
          x >= box.left - 1e-3 && x <= box.right + 1e-3 && y >= box.top - 1e-3 && y <= box.bottom + 1e-3,
      ),
  );
  expect(outside).toEqual([]);
}

function expectClean(svg: string): void {
  expect(svg).not.toMatch(/NaN|Infinity|undefined|null/);
  parseSvg(svg);
}

it('draws any finite data inside the plot, as valid XML, without a place that is not a number', () => {
  const axis = fc.constantFrom<'linear' | 'log'>('linear', 'log');
  fc.assert(
    fc.property(
      fc.array(anyMark, { maxLength: 4 }),
      axis,
      axis,
      size,
      fc.boolean(),
      (marks, x, y, own, dark) => {
        const figure = chart(marks, [x, y]);
        const appearance = { theme: dark ? darkTheme : lightTheme, size: own };
        const svg = figureToSvg(figure, appearance);
        expectClean(svg);
        expectInside(svg, layOut(figure, appearance).panels);
      },
    ),
    { seed: 20, numRuns: 120 },
  );
});

it('keeps all marks inside when any part of any data is looked at', () => {
  const range = fc.tuple(anyNumber, anyNumber).map(([a, b]) => [Math.min(a, b), Math.max(a, b)] as const);
  fc.assert(
    fc.property(fc.array(anyMark, { minLength: 1, maxLength: 3 }), range, range, (marks, x, y) => {
      const whole = chart(marks, ['linear', 'linear']);
      const figure = {
        ...whole,
        x: { ...whole.x, range: x },
        panels: [{ y: numberAxis(italic('y'), '', { range: y }), share: 1, marks }],
      };
      const svg = figureToSvg(figure);
      expectClean(svg);
      expectInside(svg, layOut(figure, { theme: lightTheme, size: sizes.column }).panels);
    }),
    { seed: 21, numRuns: 150 },
  );
});

it('draws a ledger of any finite numbers', () => {
  const value = fc.record({ value: anyNumber, standardUncertainty: anyNumber.map(Math.abs) });
  const effect = fc.record({
    effect: fc.string(),
    share: anyNumber,
    standardUncertainty: anyNumber.map(Math.abs),
  });
  fc.assert(
    fc.property(value, value, value, fc.array(effect, { maxLength: 8 }), (theory, ideal, full, effects) => {
      const svg = figureToSvg(ledgerFigure(gapLedger({ theory, ideal, full, effects }), ENGLISH));
      expectClean(svg.replace(/<text[^>]*>.*?<\/text>|<desc.*?<\/desc>/gs, ''));
      parseSvg(svg);
    }),
    { seed: 22, numRuns: 150 },
  );
});

it('sets hostile names as text, and nothing of them as markup', () => {
  const { lab } = fallingPipeline();
  const hostile = fc.oneof(
    fc.constantFrom(
      '<script>alert(1)</script>',
      '"/><image href="x" onerror="alert(1)"/>',
      ']]>',
      '&lt;b&gt; &#0; &amp;',
      '-->',
      '\u0000\u0008\u000b\ud800',
      '\u202eright to left\u202c',
      `a${'\u0301'.repeat(500)}`,
    ),
    fc.string({ unit: 'binary' }),
    fc.string({ unit: 'grapheme', maxLength: 300 }),
  );
  fc.assert(
    fc.property(hostile, hostile, (name, other) => {
      const ledger = gapLedger({
        result: labResult(name === '' ? 'k2' : name),
        group: other,
        effects: [{ effect: name, share: 0.1, standardUncertainty: 0.01 }],
      });
      const report = fitReport();
      const figures = [
        ledgerFigure(ledger, ENGLISH),
        fitFigure(
          { ...report, runName: other, y: { ...report.y, text: name }, x: { ...report.x, text: other } },
          ENGLISH,
        ),
        {
          ...schematicFigure(lab, ENGLISH, { signals: new Map([['speed sensor', name]]) }),
          title: other,
        },
      ];
      for (const figure of figures) {
        const root = parseSvg(figureToSvg(figure, { idPrefix: name, family: other }));
        const elements = elementsOf(root, '*');
        const names = new Set(elements.map(({ tagName }) => tagName));
        const attributes = new Set(
          elements.flatMap((element) => [...element.attributes].map(({ name: own }) => own)),
        );
        for (const tag of names)
          expect(['title', 'desc', 'rect', 'g', 'path', 'circle', 'text', 'tspan']).toContain(tag);
        for (const attribute of attributes) expect(attribute).not.toMatch(/^(on|href|xlink|style)/i);
        expect(root.textContent).not.toMatch(/[\u202a-\u202e\u2066-\u2069]/u);
      }
    }),
    { seed: 23, numRuns: 40 },
  );
});
