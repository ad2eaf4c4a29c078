import { type Curve, curveThrough } from '../../expression/index.ts';
import type { Dimension } from '../../quantity/index.ts';
import type { FitReport, RunState } from '../../reduction/index.ts';
import { axisUnit, inAxisUnit } from '../axis-unit.ts';
import { describeSeries, extremesOf } from '../describe.ts';
import { expressionText } from '../expression-text.ts';
import type { ChartFigure, CurveMark, Mark, Numbers, Panel, PointsMark, RuleMark } from '../figure.ts';
import { figureName } from '../figure-name.ts';
import { numberAxis } from '../number-axis.ts';
import { joinText, plainText, upright } from '../rich-text.ts';
import { sayNumber } from '../say-number.ts';
import { phrasesOf, type Wording } from '../wording.ts';

/** Who stands in an overlay. */
export type OverlayRole = 'measured' | 'full' | 'ideal' | 'theory';

/** One set of columns of an overlay: those of a real run, or of a simulated one; SI. */
export interface OverlaySeries {
  readonly role: OverlayRole;
  readonly x: Numbers;
  readonly y: Numbers;
  readonly ux: Numbers | null;
  readonly uy: Numbers | null;
}

/** What the axes of an overlay are: expressions or columns as the lab file has them. */
export interface OverlayAxes {
  readonly x: { readonly text: string; readonly dimension: Dimension };
  readonly y: { readonly text: string; readonly dimension: Dimension };
}

/** The readings of a fit as a series, with the axes of the fit. */
export function overlayOfFit(role: OverlayRole, { x, y }: FitReport): OverlaySeries {
  return { role, x: x.values, y: y.values, ux: x.u, uy: y.u };
}

/** Two columns of a run as a series; null where the run has no such columns. */
export function overlayOfColumns(
  role: OverlayRole,
  state: RunState,
  xName: string,
  yName: string,
): OverlaySeries | null {
  const x = state.columns.get(xName);
  const y = state.columns.get(yName);
  if (x === undefined || y === undefined) return null;
  const each = (u: Float64Array | number, n: number): Float64Array | null =>
    typeof u === 'number' ? (u === 0 ? null : new Float64Array(n).fill(u)) : u;
  return { role, x: x.values, y: y.values, ux: each(x.u, x.values.length), uy: each(y.u, y.values.length) };
}

/**
 * Theory, models and measurement in one plot, and below it what each differs by from the full model: on the scale of
 * the whole they often lie on one another.
 *
 * Differences are taken at the readings of each series, from a smooth curve through those of the full model; readings
 * beyond its ends are left out of the lower plot. Without a full model, or where its x values do not rise, there is no
 * lower plot.
 */
export function overlayFigure(
  axes: OverlayAxes,
  series: readonly OverlaySeries[],
  wording: Wording,
): ChartFigure {
  const phrases = phrasesOf(wording.language);
  const xUnit = axisUnit(
    axes.x.dimension,
    series.map(({ x }) => x),
  );
  const yUnit = axisUnit(
    axes.y.dimension,
    series.map(({ y }) => y),
  );
  const x = numberAxis(expressionText(axes.x.text, wording.decimalMark), xUnit.text);
  const y = numberAxis(expressionText(axes.y.text, wording.decimalMark), yUnit.text);
  const nameOf = (role: OverlayRole, hasBars: boolean): string =>
    hasBars ? phrases.plusMinusUncertainty(phrases[role]) : phrases[role];
  const toMark = (
    one: OverlaySeries,
    values: Numbers,
    unit: typeof yUnit,
    as: 'point' | 'interval',
  ): PointsMark | CurveMark => {
    const common = {
      role: one.role,
      name: upright(nameOf(one.role, one.uy !== null || one.ux !== null)),
      x: inAxisUnit(one.x, xUnit),
      y: inAxisUnit(values, unit, as),
    };
    if (one.role !== 'measured') return { kind: 'curve', ...common };
    return {
      kind: 'points',
      ...common,
      ux: one.ux === null ? null : inAxisUnit(one.ux, xUnit, 'interval'),
      uy: one.uy === null ? null : inAxisUnit(one.uy, unit, 'interval'),
    };
  };
  const marks = series.map((one) => toMark(one, one.y, yUnit, 'point'));
  const sentences = marks.flatMap((mark, index) => {
    const own = series[index];
    return describeSeries({ ...mark, name: upright(phrases[own?.role ?? 'measured']) }, x, y, wording);
  });
  const panels: Panel[] = [{ y, share: 2, marks }];
  const differences = differencesOf(series, axes);
  if (differences.length > 0) {
    const unit = axisUnit(
      axes.y.dimension,
      differences.map(({ values }) => values),
    );
    const zero: RuleMark = { kind: 'rule', role: 'full', name: [], along: 'y', at: 0, label: [] };
    const lower = differences.map(({ of, values }): Mark => ({ ...toMark(of, values, unit, 'interval') }));
    panels.push({
      y: numberAxis(joinText('(', y.quantity, ' \u2212 ', upright(phrases.full), ')'), unit.text),
      share: 1.2,
      marks: [zero, ...lower],
    });
    for (const { of, values } of differences) {
      const { low, high } = extremesOf(values);
      const say = (value: number): string => sayNumber(unit.fromSI(value, 'interval'), unit.text, wording, 2);
      sentences.push(
        phrases.sayDifference({
          name: phrases[of.role],
          reference: phrases.full,
          low: say(low),
          high: say(high),
        }),
      );
    }
  }
  return {
    kind: 'chart',
    name: figureName('overlay', axes.y.text, axes.x.text),
    title: phrases.against(plainText(y.quantity), plainText(x.quantity)),
    description: sentences.length === 0 ? phrases.sayNothing() : sentences.join(' '),
    ...wording,
    statement: [],
    x,
    panels,
  };
}

/** Each series minus the full model at its own readings, SI; NaN beyond the model's ends. */
function differencesOf(
  series: readonly OverlaySeries[],
  axes: OverlayAxes,
): readonly { readonly of: OverlaySeries; readonly values: Float64Array }[] {
  const full = series.find(({ role }) => role === 'full');
  if (full === undefined) return [];
  const curve = curveOf(full, axes);
  if (curve === null) return [];
  const { low, high } = extremesOf(full.x);
  return series.flatMap((of) => {
    if (of.role === 'full') return [];
    const values = Float64Array.from({ length: of.y.length }, (_, i) =>
      of.x[i] >= low && of.x[i] <= high ? of.y[i] - curve(of.x[i], 0) : Number.NaN,
    );
    return values.some(Number.isFinite) ? [{ of, values }] : [];
  });
}

function curveOf({ x, y }: OverlaySeries, { x: xAxis, y: yAxis }: OverlayAxes): Curve | null {
  if (x.length < 2) return null;
  for (let i = 1; i < x.length; i++) if (!(x[i] > x[i - 1])) return null;
  return curveThrough({
    x: Float64Array.from(x),
    y: Float64Array.from(y),
    xDimension: xAxis.dimension,
    yDimension: yAxis.dimension,
  });
}
