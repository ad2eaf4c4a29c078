import { describe, expect, it } from 'vitest';
import {
  type ChartFigure,
  dataTables,
  fitFigure,
  layOut,
  ledgerFigure,
  lightTheme,
  placing,
  plainText,
  readAt,
  rehearsalFigure,
  schematicFigure,
  sizes,
} from '../../src/figure/index.ts';
import { fallingPipeline } from './falling-lab.ts';
import { allFigures, ENGLISH, GERMAN } from './figures.ts';
import { fitReport, gapLedger, rehearsedOutput } from './results.ts';

describe('the data of a figure as tables', () => {
  it('has every reading with its uncertainty, equal decimals in a column', () => {
    const report = fitReport();
    const [readings, line] = dataTables(fitFigure(report, ENGLISH));
    expect(readings?.headings).toEqual([
      'x²\u00a0/\u00a0m²',
      'v²\u00a0/\u00a0(m²/s²)',
      'standard uncertainty of v²\u00a0/\u00a0(m²/s²)',
    ]);
    expect(readings?.rows).toHaveLength(24);
    expect(readings?.rows.map(([, y]) => y?.value)).toEqual([...report.y.values]);
    expect(readings?.rows[0]?.map(({ text }) => text)).toEqual(['0.0400', '0.0515', '0.011']);
    expect(line?.caption).toBe('line: k2 = 2.198(14) 1/s²');
    expect(line?.rows).toHaveLength(2);
  });

  it('writes decimal commas where the figure does', () => {
    const [readings] = dataTables(fitFigure(fitReport(), GERMAN));
    expect(readings?.rows[0]?.map(({ text }) => text)).toEqual(['0,0400', '0,0515', '0,011']);
  });

  it('has the lines of a ledger, changes as differences', () => {
    const [table] = dataTables(ledgerFigure(gapLedger(), ENGLISH));
    expect(table?.rows.map(([label]) => label?.text)).toEqual([
      'theory',
      'motion from edges of wheel gate',
      'ideal model',
      'chain on the rim pulls too',
      'wheel turns too',
      'rolling resistance',
      'a mark is seen early',
      'full model',
      'measured',
      'remainder',
    ]);
    const values = table?.rows.map(([, value]) => value?.value ?? Number.NaN) ?? [];
    const effects = values.slice(3, 7).reduce((sum, value) => sum + value, 0);
    expect(values[2] + effects).toBeCloseTo(values[7], 12);
    expect(values[7] + values[9]).toBeCloseTo(values[8], 12);
  });

  it('has the classes of a histogram, which hold every rehearsal once', () => {
    const marks = { theory: 2.2664, ideal: null, full: null, group: null };
    const [bars, central, rules] = dataTables(rehearsalFigure(rehearsedOutput(), marks, ENGLISH));
    const counts = bars?.rows.map(([, , count]) => count?.value ?? 0) ?? [];
    expect(counts.reduce((sum, count) => sum + count, 0)).toBe(100);
    expect(central?.caption).toBe('central 95 %');
    expect(rules?.rows).toEqual([
      [
        { text: 'theory', value: null },
        { text: '2.2664', value: 2.2664 },
      ],
    ]);
  });

  it('has a table for every figure, and as many cells in each row as headings', () => {
    for (const figure of [...allFigures(ENGLISH).values(), schematicFigure(fallingPipeline().lab, ENGLISH)]) {
      const tables = dataTables(figure);
      expect(tables.length).toBeGreaterThan(0);
      for (const { rows, headings } of tables) {
        for (const row of rows) expect(row).toHaveLength(headings.length);
      }
    }
  });
});

describe('a reader who points at a figure', () => {
  const figure: ChartFigure = fitFigure(fitReport(), ENGLISH);
  const scene = layOut(figure, { theme: lightTheme, size: sizes.screen });

  it('is told the reading that is nearest', () => {
    const report = fitReport();
    const [panel] = scene.panels;
    if (panel === undefined) throw new Error('no panel');
    const at = { x: placing(panel.x)(report.x.values[7]) + 3, y: placing(panel.y)(report.y.values[7]) - 2 };
    const reading = readAt(figure, scene, at);
    expect(reading?.index).toBe(7);
    expect(reading?.mark.role).toBe('measured');
    expect(plainText(reading?.text ?? [])).toBe(
      'x² = 0.3322 m², v² = 0.6692 m²/s²: measured ± standard uncertainty',
    );
  });

  it('is told nothing far from all values, and nothing beside the plot', () => {
    const [panel] = scene.panels;
    if (panel === undefined) throw new Error('no panel');
    expect(readAt(figure, scene, { x: panel.box.left + 5, y: panel.box.top + 5 })).toBeNull();
    expect(readAt(figure, scene, { x: 2, y: 2 })).toBeNull();
  });
});
