import { describe, expect, it } from 'vitest';
import {
  type ChartFigure,
  describeChart,
  figureToSvg,
  fitFigure,
  italic,
  ledgerFigure,
  numberAxis,
  rehearsalFigure,
  stepsFigure,
  upright,
} from '../../src/figure/index.ts';
import { allFigures, ENGLISH, GERMAN } from './figures.ts';
import { elementsOf, parseSvg } from './parse-svg.ts';
import { fitReport, gapLedger, labResult, rehearsedOutput, stepperTables } from './results.ts';

describe('the text that stands for a figure', () => {
  it('tells of a fit how many readings there are, where they go, what the line is and how good', () => {
    expect(fitFigure(fitReport(), ENGLISH).description).toBe(
      '24 points (measured) of v² against x², with upright bars of one standard uncertainty. ' +
        'From x² = 0.0400 m² to 1.00 m², v² rises from 0.0515 m²/s² to 2.16 m²/s². ' +
        'The fit has b = −0.0441(84) m²/s² and k2 = 2.198(14) 1/s². ' +
        'The residuals stay within ±0.042 m²/s².',
    );
  });

  it('tells the same in German, with decimal commas', () => {
    expect(fitFigure(fitReport(), GERMAN).description).toBe(
      '24 Punkte (gemessen) von v² über x², mit senkrechten Balken von einer Standardunsicherheit. ' +
        'Von x² = 0,0400 m² bis 1,00 m² steigt v² von 0,0515 m²/s² auf 2,16 m²/s². ' +
        'Der Ausgleich hat b = −0,0441(84) m²/s² und k2 = 2,198(14) 1/s². ' +
        'Die Residuen bleiben innerhalb von ±0,042 m²/s².',
    );
  });

  it('tells of a ledger every line of it, and the verdict', () => {
    expect(ledgerFigure(gapLedger(), ENGLISH).description).toBe(
      'Theory: 2.2664(21) 1/s². Ideal model: 2.2660(21) 1/s². ' +
        'Between theory and ideal model, steps of the reduction shift k2 by: motion from edges of wheel gate, −0.00090 1/s². ' +
        'The effects change k2 by: chain on the rim pulls too, +0.0680(14) 1/s²; wheel turns too, −0.0139(15) 1/s²; ' +
        'rolling resistance, −0.063(14) 1/s²; a mark is seen early, −3.10(52)×10⁻⁴ 1/s². ' +
        'Full model: 2.257(15) 1/s². Measured: 2.2176(52) 1/s². ' +
        'Remainder: −0.039(16) 1/s², 2.4 times its standard uncertainty. ' +
        'Doubtful: the remainder is larger than chance would often make it.',
    );
  });

  it('tells of a lab without trials no remainder', () => {
    const { description } = ledgerFigure(gapLedger({ measured: null, remainder: null }), ENGLISH);
    expect(description).toMatch(/Full model: 2\.257\(15\) 1\/s²\.$/);
  });

  it('judges no remainder whose uncertainty is not known', () => {
    const { remainder } = gapLedger();
    if (remainder === null) throw new Error('a remainder');
    const unknown = {
      ...remainder,
      standardUncertainty: Number.NaN,
      z: Number.NaN,
      verdict: 'unknown',
    } as const;
    expect(ledgerFigure(gapLedger({ remainder: unknown }), ENGLISH).description).toMatch(
      /Remainder: −0\.039190 1\/s² \(u unknown\)\. Not to be judged: no uncertainty is stated/,
    );
  });

  it('tells of rehearsals their mean and their central 95 %', () => {
    const marks = { theory: 2.2664, ideal: null, full: 2.2227, group: null };
    expect(rehearsalFigure(rehearsedOutput(), marks, ENGLISH).description).toBe(
      'Histogram of k2 in 100 rehearsals: mean 2.220 1/s², standard deviation 0.016 1/s², ' +
        '95 % of them between 2.189 1/s² and 2.251 1/s². Theory: 2.266 1/s². Full model: 2.223 1/s².',
    );
  });

  it('tells of steppers which step is small enough', () => {
    const { description } = stepsFigure(stepperTables(), labResult(), 0.0052, ENGLISH);
    expect(description).toContain(
      'Forward Euler: the error grows from 0.0030 1/s² at a step of 0.001 s to 0.15 1/s² at 0.05 s.',
    );
    expect(description).toContain(
      'With forward Euler no step tried keeps the error below a tenth of the uncertainty.',
    );
    expect(description).toContain(
      'With midpoint steps up to 0.01 s keep the error below a tenth of the uncertainty.',
    );
  });

  it('tells where a condition of the model first fails', () => {
    const description = allFigures(ENGLISH).get('validity')?.description ?? '';
    expect(description).toMatch(
      /The condition "the sensor follows" first fails at t = 0\.413 s, where x = 0\.832 m, v = 4\.00 m\/s; the time after that is hatched\.$/,
    );
  });

  it('says of a series that swings between which values, and of none that there is nothing', () => {
    const swing: ChartFigure = {
      kind: 'chart',
      name: 'swing',
      title: 'swing',
      description: '',
      ...ENGLISH,
      statement: [],
      x: numberAxis(italic('t'), 's'),
      panels: [
        {
          y: numberAxis(italic('θ'), '°'),
          share: 1,
          marks: [
            {
              kind: 'curve',
              role: 'full',
              name: upright('full model'),
              x: [0, 1, 2, 3],
              y: [20, -18, 16, -14],
            },
          ],
        },
      ],
    };
    expect(describeChart(swing)).toBe(
      'A line (full model) of θ against t. Between t = 0 s and 3.00 s, θ goes up and down between −18.0° and 20.0°.',
    );
    expect(describeChart({ ...swing, panels: [] })).toBe('There is nothing to show yet.');
  });

  it('says that values are left out of the drawing, where there are too many', () => {
    const n = 20000;
    const x = Float64Array.from({ length: n }, (_, i) => i);
    const figure: ChartFigure = {
      kind: 'chart',
      name: 'long',
      title: 'long',
      description: 'A long series.',
      ...ENGLISH,
      statement: [],
      x: numberAxis(italic('t'), 's'),
      panels: [
        {
          y: numberAxis(italic('y'), 'm'),
          share: 1,
          marks: [
            { kind: 'points', role: 'measured', name: upright('measured'), x, y: x, ux: null, uy: null },
          ],
        },
      ],
    };
    const [desc] = elementsOf(parseSvg(figureToSvg(figure)), 'desc');
    expect(desc?.textContent).toBe(
      'A long series. There are more values than can be drawn; those shown keep the highest and the lowest of every place.',
    );
  });
});

describe.each([
  ['English', ENGLISH],
  ['German', GERMAN],
] as const)('every figure in %s', (_, wording) => {
  for (const [name, figure] of allFigures(wording)) {
    it(`is one image with a name and a text: ${name}`, () => {
      const root = parseSvg(figureToSvg(figure, { idPrefix: 'page-' }));
      expect(root.getAttribute('role')).toBe('img');
      expect(root.getAttribute('lang')).toBe(wording.language);
      const [title] = elementsOf(root, 'title');
      const [desc] = elementsOf(root, 'desc');
      expect(root.getAttribute('aria-labelledby')).toBe(
        `${title?.getAttribute('id')} ${desc?.getAttribute('id')}`,
      );
      expect(title?.getAttribute('id')).toMatch(/^page-[a-z][a-z0-9-]*-title$/);
      expect(title?.textContent).toBe(figure.title);
      expect(desc?.textContent?.length).toBeGreaterThan(40);
      expect(desc?.textContent).not.toMatch(/undefined|null|NaN|\[object/);
    });

    it(`writes all numbers with the decimal mark asked for: ${name}`, () => {
      const svg = figureToSvg(figure);
      const texts = elementsOf(parseSvg(svg), 'text').map((text) => text.textContent ?? '');
      const wrong = wording.decimalMark === ',' ? /\d\.\d/ : /\d,\d/;
      // Expressions of the lab file keep the mark that the author wrote.
      for (const text of texts.filter((each) => !each.includes('>'))) expect(text).not.toMatch(wrong);
      expect(figure.description).not.toMatch(wrong);
    });
  }
});
