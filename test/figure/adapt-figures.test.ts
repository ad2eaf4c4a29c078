import { describe, expect, it } from 'vitest';
import {
  combineKits,
  createGauge,
  mapMeasures,
  readMeasure,
  readVariation,
  surveyKits,
} from '../../src/adapt/index.ts';
import { figureToSvg, kitsFigure, levelLine, measureMapFigure } from '../../src/figure/index.ts';
import { pipelineFrom, SLOPE_LAB, valueFrom } from '../lab/slope-lab.ts';

const WORDING = { language: 'en', decimalMark: '.' } as const;

describe('lines of equal value', () => {
  const places = Array.from({ length: 41 }, (_, index) => -2 + index * 0.1);

  it('of x² + y² are circles, within a quarter of a cell’s curvature', () => {
    const values = Float64Array.from(places.flatMap((x) => places.map((y) => x * x + y * y)));
    const { x, y } = levelLine(places, places, values, 2);
    const radii = Array.from(x, (value, index) => Math.hypot(value, y[index])).filter(Number.isFinite);
    expect(radii.length).toBeGreaterThan(100);
    for (const radius of radii) expect(Math.abs(radius - Math.SQRT2)).toBeLessThan(0.1 ** 2 / 4);
  });

  it('leave out cells with a missing corner, and part a saddle by its middle', () => {
    const saddle = Float64Array.of(1, -1, -1, 1.5);
    const both = levelLine([0, 1], [0, 1], saddle, 0);
    expect(Array.from(both.x).filter(Number.isFinite)).toHaveLength(4);
    expect(levelLine([0, 1], [0, 1], Float64Array.of(1, Number.NaN, -1, 1), 0).x).toHaveLength(0);
  });
});

describe('figures of kits and maps', () => {
  const pipeline = pipelineFrom(`${SLOPE_LAB}kits: { heavy: { set: { m: 500 g } } }\n`);
  const { lab } = pipeline;

  it('show each set of equipment with its scatter and what theory says, and say the same in words', () => {
    const outlooks = valueFrom(surveyKits(pipeline, combineKits(lab.kits), { rehearsals: 8 }));
    const [result] = lab.results;
    if (result === undefined) throw new Error('no result');
    const figure = kitsFigure(outlooks, result, ({ kits }) => kits[0]?.name ?? 'as given', WORDING);
    expect(figure.description).toMatch(/^As given: a = .*m\/s².*theory gives 1\.025.* Heavy: a = /);
    const svg = figureToSvg(figure);
    expect(svg).toContain('heavy');
    expect(svg).toContain('role="img"');
  });

  it('of one quantity are a curve, of two lines of round values', () => {
    const gauge = createGauge(pipeline);
    const gap = valueFrom(readMeasure(lab, 'gap(a)', 'test'));
    const vary = (text: string) => valueFrom(readVariation(lab, text));
    const one = valueFrom(mapMeasures(gauge, [gap], [vary('m=100g..1kg')], [], { places: 5 }));
    const curve = valueFrom(measureMapFigure(one, gap, WORDING));
    expect(curve.panels[0]?.marks.map(({ kind }) => kind)).toEqual(['curve']);
    const two = valueFrom(
      mapMeasures(gauge, [gap], [vary('m=100g..1kg'), vary('alpha=4degree..8degree')], [], { places: 4 }),
    );
    const lines = valueFrom(measureMapFigure(two, gap, WORDING));
    expect(lines.panels[0]?.marks.length).toBeGreaterThan(1);
    expect(lines.description).toMatch(/^gap\(a\) lies between .* % \(at m = /);
  });

  it('a map that has one value everywhere is told, not drawn', () => {
    const gauge = createGauge(pipeline);
    const g = valueFrom(readMeasure(lab, 'g', 'test'));
    const vary = valueFrom(readVariation(lab, 'm=100g,200g'));
    const other = valueFrom(readVariation(lab, 'alpha=4degree,5degree'));
    const map = valueFrom(mapMeasures(gauge, [g], [vary, other]));
    expect(measureMapFigure(map, g, WORDING).ok).toBe(false);
  });
});
