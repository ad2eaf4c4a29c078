import * as fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  type ChartFigure,
  type Figure,
  figureToSvg,
  fitFigure,
  fromText,
  italic,
  layOut,
  ledgerFigure,
  lightTheme,
  numberAxis,
  type Size,
  sizes,
  upright,
} from '../../src/figure/index.ts';
import { allFigures, ENGLISH, GERMAN } from './figures.ts';
import { elementsOf, parseSvg } from './parse-svg.ts';
import { fitReport, gapLedger } from './results.ts';
import { overlaps, textBoxes } from './text-boxes.ts';

function expectNoOverlap(figure: Figure, size: Size): void {
  const scene = layOut(figure, { theme: lightTheme, size });
  const boxes = textBoxes(scene);
  expect(overlaps(boxes)).toEqual([]);
  for (const box of boxes) {
    expect(box.left, box.text).toBeGreaterThanOrEqual(-0.01);
    expect(box.right, box.text).toBeLessThanOrEqual(scene.widthPt + 0.01);
    expect(box.top, box.text).toBeGreaterThanOrEqual(-0.01);
    expect(box.bottom, box.text).toBeLessThanOrEqual(scene.heightPt + 0.01);
  }
}

describe.each([
  ['English', ENGLISH],
  ['German', GERMAN],
] as const)('in %s', (_, wording) => {
  for (const [name, figure] of allFigures(wording)) {
    it.each(Object.entries(sizes))(
      `no text of the ${name} figure lies on another or outside, size %s`,
      (_size, size) => {
        expectNoOverlap(figure, size);
      },
    );
  }
});

it('thins ticks until their labels have room, whatever the numbers and the width', () => {
  const ends = fc
    .tuple(fc.double({ noNaN: true, min: -1e9, max: 1e9 }), fc.double({ noNaN: true, min: 1e-9, max: 1e9 }))
    .map(([low, span]) => [low, low + span] as const);
  fc.assert(
    fc.property(
      ends,
      ends,
      fc.integer({ min: 160, max: 900 }),
      fc.boolean(),
      ([x0, x1], [y0, y1], widthPt, log) => {
        const figure: ChartFigure = {
          kind: 'chart',
          name: 'ends',
          title: 'ends',
          description: '',
          ...ENGLISH,
          statement: [],
          x: numberAxis(italic('x'), 'm/s', { kind: log ? 'log' : 'linear' }),
          panels: [
            {
              y: numberAxis(italic('y'), 'kg·m/s', { kind: log ? 'log' : 'linear' }),
              share: 1,
              marks: [{ kind: 'curve', role: 'full', name: upright('full model'), x: [x0, x1], y: [y0, y1] }],
            },
          ],
        };
        expectNoOverlap(figure, { widthPt, heightPt: widthPt * 0.6, fontPt: 9, shows: 'everything' });
      },
    ),
    { seed: 4, numRuns: 300 },
  );
});

it('breaks and cuts long names of effects instead of writing over numbers', () => {
  const long =
    'an effect whose name tells a whole story of what happens when the chain meets the wheel, and more';
  const ledger = gapLedger({
    effects: [
      { effect: long, share: 0.07, standardUncertainty: 0.001 },
      { effect: long.replaceAll(' ', ''), share: -0.08, standardUncertainty: 0.001 },
    ],
  });
  for (const size of Object.values(sizes)) expectNoOverlap(ledgerFigure(ledger, GERMAN), size);
});

it('staggers labels of rules that stand close together', () => {
  const rule = (at: number, name: string) =>
    ({ kind: 'rule', role: 'full', along: 'x', at, name: upright(name), label: upright(name) }) as const;
  const figure: ChartFigure = {
    kind: 'chart',
    name: 'rules',
    title: 'rules',
    description: '',
    ...ENGLISH,
    statement: [],
    x: numberAxis(italic('x'), ''),
    panels: [
      {
        y: numberAxis(italic('y'), ''),
        share: 1,
        marks: [rule(0, 'theory'), rule(0.01, 'ideal model'), rule(0.02, 'full model'), rule(1, 'far away')],
      },
    ],
  };
  expectNoOverlap(figure, sizes.column);
  const rows = new Set(
    textBoxes(layOut(figure, { theme: lightTheme, size: sizes.column }))
      .filter(({ text }) => ['theory', 'ideal model', 'full model', 'far away'].includes(text))
      .map(({ top }) => top),
  );
  expect(rows.size).toBe(3);
});

it('shows no text in a thumbnail, where nobody could read it, and still says everything in words', () => {
  const svg = parseSvg(figureToSvg(fitFigure(fitReport(), ENGLISH), { size: sizes.thumbnail }));
  expect(elementsOf(svg, 'text')).toEqual([]);
  expect(elementsOf(svg, 'desc')[0]?.textContent).toContain('24 points');
});

it('sets the exponent of a power of ten and of a unit smaller and higher', () => {
  const figure = fitFigure(fitReport(), ENGLISH);
  const raised = elementsOf(parseSvg(figureToSvg(figure)), 'tspan').filter(
    (span) => Number(span.getAttribute('dy')) < 0,
  );
  expect(raised.map((span) => span.textContent)).toContain('2');
  expect(fromText('m²')).toHaveLength(2);
});
