import { describe, expect, it } from 'vitest';
import { evolve } from '../../src/evolve/index.ts';
import {
  type ChartFigure,
  expressionText,
  type Figure,
  ledgerFigure,
  overlayFigure,
  overlayOfColumns,
  overlayOfFit,
  plainText,
  rehearsalFigure,
  schematicFigure,
  settingFigure,
  stepsFigure,
  validityFigure,
} from '../../src/figure/index.ts';
import { plannedGroups } from '../../src/run/index.ts';
import { fallingPipeline } from './falling-lab.ts';
import { allFigures, ENGLISH } from './figures.ts';
import { fitReport, gapLedger, goodOf, labResult, rehearsedOutput, stepperTables, unit } from './results.ts';

function chartOf(figure: Figure | undefined): ChartFigure {
  if (figure?.kind !== 'chart') throw new Error('not a chart');
  return figure;
}

function marksOf<K extends ChartFigure['panels'][number]['marks'][number]['kind']>(
  figure: ChartFigure,
  kind: K,
  panel = 0,
) {
  return (figure.panels[panel]?.marks ?? []).filter(
    (mark): mark is Extract<typeof mark, { kind: K }> => mark.kind === kind,
  );
}

describe('the ledger', () => {
  const figure = ledgerFigure(gapLedger(), ENGLISH);
  const [mark] = marksOf(figure, 'levels');
  const levels = mark?.levels ?? [];

  it('starts each effect where the last one ended, from the ideal to the full model', () => {
    const steps = levels.filter((level) => level.kind === 'step').slice(1);
    const ledger = gapLedger();
    let reached = ledger.ideal.value;
    for (const step of steps) {
      if (step.kind !== 'step') throw new Error('a total among steps');
      expect(step.from).toBe(reached);
      reached = step.to;
    }
    expect(reached).toBe(ledger.full.value);
  });

  it('ends with the remainder, from the full model to the measured value', () => {
    const ledger = gapLedger();
    expect(levels.at(-1)).toMatchObject({
      kind: 'rest',
      from: ledger.full.value,
      to: ledger.measured?.value,
    });
  });

  it('shows a step of the reduction only where it shifts the result by more than a tenth of the uncertainty', () => {
    const { y } = figure.panels[0] ?? {};
    const labels = y?.kind === 'rows' ? y.rows.map(({ label }) => plainText(label)) : [];
    expect(labels).toContain('motion from edges of wheel gate');
    expect(labels).not.toContain('keep x > 0.20 m');
  });

  it('writes the numbers of a column without powers of ten', () => {
    const { y } = figure.panels[0] ?? {};
    const values = y?.kind === 'rows' ? y.rows.map(({ value }) => plainText(value)) : [];
    expect(values).toEqual([
      '2.2664(21)',
      '−0.00090',
      '2.2660(21)',
      '+0.0680(14)',
      '−0.0139(15)',
      '−0.063(14)',
      '−0.000310(52)',
      '2.257(15)',
      '2.2176(52)',
      '−0.039(16)',
    ]);
  });

  it('works in the unit of the result', () => {
    const inMinutes = ledgerFigure(gapLedger({ result: labResult('T', 'min') }), ENGLISH);
    const [own] = marksOf(inMinutes, 'levels');
    const [theory] = own?.levels ?? [];
    expect(theory).toMatchObject({ kind: 'total', value: 2.2664 / 60 });
  });
});

describe('the overlay', () => {
  const full = fitReport({ scatter: 0, slope: 2.2, count: 40 });
  const measured = fitReport({ scatter: 0, slope: 2.1, count: 17 });
  const series = [overlayOfFit('measured', measured), { ...overlayOfFit('full', full), ux: null, uy: null }];

  it('shows below what each series differs by from the full model, at its own readings', () => {
    const figure = overlayFigure({ x: full.x, y: full.y }, series, ENGLISH);
    const [difference] = marksOf(figure, 'points', 1);
    // Two straight lines: −0.1·x² apart, whatever lies between their points; shown in a unit of mm²/s² or m²/s².
    const { y } = figure.panels[1] ?? {};
    expect(y?.kind !== 'rows' && y?.unit).toBe('m²/s²');
    Array.from(difference?.y ?? []).forEach((value, i) => {
      expect(value).toBeCloseTo(-0.1 * measured.x.values[i], 12);
    });
  });

  it('has no lower panel without a full model, or where its x goes back', () => {
    const alone = series.slice(0, 1);
    expect(overlayFigure({ x: full.x, y: full.y }, alone, ENGLISH).panels).toHaveLength(1);
    const back = series.map((one) => ({ ...one, x: Float64Array.from(one.x).reverse() }));
    expect(overlayFigure({ x: full.x, y: full.y }, back, ENGLISH).panels).toHaveLength(1);
  });

  it('takes columns of a run with their uncertainties', () => {
    const pipeline = fallingPipeline();
    const values = pipeline.values(pipeline.nominal);
    const run = goodOf(
      pipeline.reduce(goodOf(pipeline.simulate(values)).readings, values, { keepsReports: true }),
    );
    const columns = overlayOfColumns('measured', run, 't', 'v');
    expect(columns?.y.length).toBe(run.columns.get('v')?.values.length);
    expect(columns?.uy?.[0]).toBeGreaterThan(0);
    expect(overlayOfColumns('measured', run, 't', 'w')).toBeNull();
  });
});

describe('the other figures', () => {
  it('histogram: every rehearsal in one class of round width, the central 95 % and the models beside it', () => {
    const figure = rehearsalFigure(
      rehearsedOutput(),
      { theory: 2.2664, ideal: Number.NaN, full: 2.22, group: null },
      ENGLISH,
    );
    const [bars] = marksOf(figure, 'bars');
    const edges = Array.from(bars?.edges ?? []);
    const heights = Array.from(bars?.heights ?? []);
    expect(heights.reduce((sum, height) => sum + height, 0)).toBe(100);
    for (const [i, height] of heights.entries()) {
      const inside = rehearsedOutput().values.filter((value) => value >= edges[i] && value < edges[i + 1]);
      expect(height).toBe(inside.length);
    }
    // Freedman and Diaconis: 2·(interquartile range)/∛n = 2·0.0234/4.64 = 0.0101; 0.01 is the round value next to it.
    expect(edges[1] - edges[0]).toBeCloseTo(0.01, 9);
    expect(marksOf(figure, 'region')[0]).toMatchObject({
      from: rehearsedOutput().low,
      to: rehearsedOutput().high,
    });
    expect(marksOf(figure, 'rule').map(({ at }) => at)).toEqual([2.2664, 2.22]);
  });

  it('steps: sizes of errors on logarithmic axes, and the level of a tenth of the uncertainty', () => {
    const figure = stepsFigure(stepperTables(), labResult(), 0.0052, ENGLISH);
    expect(figure.x.kind).toBe('log');
    const [, semiImplicit] = marksOf(figure, 'points');
    expect(semiImplicit?.y).toEqual([0.001, 0.002, 0.005, 0.01, 0.02, 0.05].map((step) => 0.5 * step));
    expect(marksOf(figure, 'rule')[0]?.at).toBeCloseTo(0.00052, 15);
  });

  it('steps: errors of 0 and missing ones have no place on a logarithmic axis', () => {
    const tables = stepperTables().map((table) => ({
      ...table,
      rows: table.rows.map((row, i) => ({ ...row, error: i === 0 ? 0 : i === 1 ? Number.NaN : row.error })),
    }));
    const figure = stepsFigure(tables, labResult(), null, ENGLISH);
    for (const { y } of marksOf(figure, 'points')) expect(y).toHaveLength(4);
    expect(marksOf(figure, 'rule')).toEqual([]);
  });

  it('validity: hatched from where the speed passes 4 m/s, by the closed form of a fall against drag', () => {
    const pipeline = fallingPipeline();
    const { model } = pipeline.lab;
    if (model.kind !== 'motion') throw new Error('a motion');
    const motion = goodOf(evolve(model.model, pipeline.values(pipeline.nominal)));
    const figure = validityFigure(motion, model.model, ENGLISH, {
      states: ['v'],
      units: new Map([['v', unit('km/h')]]),
    });
    const [region] = marksOf(figure, 'region');
    // v = w·tanh(g·t/w) with w = √(m·g/c)
    const w = Math.sqrt((0.05 * 9.81) / 1.2e-3);
    const passesAt = (w / 9.81) * Math.atanh(4 / w);
    expect(region?.from).toBeCloseTo(passesAt, 9);
    expect(region?.to).toBeCloseTo(0.5, 12);
    const [curve] = marksOf(figure, 'curve');
    const last = (curve?.y.length ?? 0) - 1;
    expect(curve?.y[last]).toBeCloseTo(3.6 * w * Math.tanh((9.81 * 0.5) / w), 6);
  });

  it('setting: one point a group and the theory between the settings, which here does not depend on them', () => {
    const figure = chartOf(allFigures(ENGLISH).get('setting'));
    const [measured, full] = marksOf(figure, 'points');
    expect(measured?.x).toEqual([20, 50, 80]);
    Array.from(full?.y ?? []).forEach((value, i) => {
      expect(value).toBeCloseTo(9.2 + 0.2 * i, 12);
    });
    expect(measured?.y).toHaveLength(3);
    const [theory] = marksOf(figure, 'curve');
    for (const value of Array.from(theory?.y ?? [])) expect(value).toBe(9.81);
    expect(plainText(figure.x.quantity)).toBe('m');
    expect(figure.x.unit).toBe('g');
  });

  it('setting: where all runs are alike there is nothing to draw, and it says so', () => {
    const pipeline = fallingPipeline();
    const [group] = plannedGroups(pipeline.lab);
    const [result] = pipeline.lab.results;
    if (group === undefined || result === undefined) throw new Error('a group and a result');
    const figure = settingFigure(pipeline, result, [group], [], ENGLISH);
    expect(figure.ok).toBe(false);
    if (!figure.ok) expect(figure.problems[0]?.message).toContain('same settings');
  });

  it('schematic: phenomenon, instrument, reduction, results, and that it is no picture of the set-up', () => {
    const figure = schematicFigure(fallingPipeline().lab, ENGLISH, {
      signals: new Map([['speed sensor', 'v']]),
    });
    expect(figure.columns.map(({ blocks }) => blocks.map(({ heading }) => plainText(heading)))).toEqual([
      ['phenomenon'],
      ['speed sensor'],
      ['reduction'],
      ['results'],
    ]);
    expect(figure.columns[0]?.leads).toEqual(expressionText('v'));
    expect(plainText(figure.footnote)).toMatch(/^Schematic/);
    expect(figure.description).toContain('air holds back');
  });
});
