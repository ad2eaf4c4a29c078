import { formatDimension } from '../../quantity/index.ts';
import type { FitReport } from '../../reduction/index.ts';
import { type AxisUnit, axisUnit, inAxisUnit } from '../axis-unit.ts';
import { describeSeries, extremesOf } from '../describe.ts';
import { expressionText } from '../expression-text.ts';
import type { BandMark, ChartFigure, CurveMark, Panel, PointsMark, RuleMark } from '../figure.ts';
import { figureName } from '../figure-name.ts';
import { numberAxis } from '../number-axis.ts';
import { fromText, joinText, plainText, type RichText, upright } from '../rich-text.ts';
import { sayMeasured, sayNumber } from '../say-number.ts';
import { symbolText } from '../symbol-text.ts';
import { phrasesOf, type Wording } from '../wording.ts';

/** Places at which the uncertainty of a line is worked out: it bends, most near the middle of the readings. */
const BAND_PLACES = 65;

/**
 * A fit with its readings: bars of one standard uncertainty, the fit, the band of its own standard uncertainty, and
 * the residuals on a scale of their own below.
 *
 * Readings without a stated uncertainty bear no bars. The band is that of the fit itself (JCGM 100, 5.2.2, from the
 * covariance of the parameters), not where further readings would lie; it is known for a straight line only.
 *
 * @param report a straight line, or any other fit that gives its value at each reading
 */
export function fitFigure(report: FitReport, wording: Wording): ChartFigure {
  const phrases = phrasesOf(wording.language);
  const xUnit = axisUnit(report.x.dimension, [report.x.values]);
  const yUnit = axisUnit(report.y.dimension, [report.y.values]);
  const residualUnit = axisUnit(report.y.dimension, [report.residuals, report.y.u ?? []]);
  const x = numberAxis(expressionText(report.x.text, wording.decimalMark), xUnit.text);
  const y = numberAxis(expressionText(report.y.text, wording.decimalMark), yUnit.text);
  const readings = readingsOf(
    report,
    xUnit,
    yUnit,
    report.y.u === null && report.x.u === null
      ? phrases.measured
      : phrases.plusMinusUncertainty(phrases.measured),
  );
  const isLine = report.step === 'line' && report.parameters.length === 2;
  const marks: Panel['marks'] = isLine
    ? [
        readings,
        lineThrough(report, xUnit, yUnit, wording),
        bandOfLine(report, xUnit, yUnit, phrases.plusMinusUncertainty(phrases.fittedCurve)),
      ]
    : [readings, curveThrough(report, xUnit, yUnit, wording)];
  const residuals: PointsMark = {
    ...readings,
    name: [],
    y: inAxisUnit(report.residuals, residualUnit, 'interval'),
    uy: report.y.u === null ? null : inAxisUnit(report.y.u, residualUnit, 'interval'),
  };
  const zero: RuleMark = { kind: 'rule', role: 'fit', name: [], along: 'y', at: 0, label: [] };
  const { low, high } = extremesOf(residuals.y);
  const description = [
    ...describeSeries({ ...readings, name: upright(phrases.measured) }, x, y, wording),
    phrases.sayParameters(
      parametersOf(report, wording).map(({ name, value }) => ({ name: plainText(name), value })),
    ),
    phrases.sayResiduals(sayNumber(Math.max(Math.abs(low), Math.abs(high)), residualUnit.text, wording, 2)),
  ];
  return {
    kind: 'chart',
    name: figureName('fit', report.y.text, report.x.text, report.runName),
    title: phrases.against(plainText(y.quantity), plainText(x.quantity)),
    description: description.join(' '),
    ...wording,
    statement: [],
    x,
    panels: [
      { y, share: 2.6, marks },
      {
        y: numberAxis(upright(phrases.residual), residualUnit.text),
        share: 1,
        marks: isLine ? [zero, residuals, aroundZero(report, xUnit, residualUnit)] : [zero, residuals],
      },
    ],
  };
}

function readingsOf(report: FitReport, xUnit: AxisUnit, yUnit: AxisUnit, name: string): PointsMark {
  const { x, y } = report;
  return {
    kind: 'points',
    role: 'measured',
    name: upright(name),
    x: inAxisUnit(x.values, xUnit),
    y: inAxisUnit(y.values, yUnit),
    ux: x.u === null ? null : inAxisUnit(x.u, xUnit, 'interval'),
    uy: y.u === null ? null : inAxisUnit(y.u, yUnit, 'interval'),
  };
}

function parametersOf(
  report: FitReport,
  wording: Wording,
): readonly { readonly name: RichText; readonly value: string }[] {
  return report.parameters.map(({ name, value, standardUncertainty, dimension }) => ({
    name: symbolText(name),
    value: sayMeasured(value, standardUncertainty, formatDimension(dimension), wording),
  }));
}

/** 'line: k₂ = 2.220(10) 1/s²': the slope, because it is what the line was drawn for. */
function nameOfFit(report: FitReport, wording: Wording, word: string): RichText {
  const parameters = parametersOf(report, wording);
  const last = parameters.at(-1);
  return last === undefined ? upright(word) : joinText(`${word}: `, last.name, ' = ', fromText(last.value));
}

function lineThrough(report: FitReport, xUnit: AxisUnit, yUnit: AxisUnit, wording: Wording): CurveMark {
  const [intercept, slope] = report.parameters;
  const { low, high } = extremesOf(report.x.values);
  const ends = Float64Array.of(low, high);
  return {
    kind: 'curve',
    role: 'fit',
    name: nameOfFit(report, wording, phrasesOf(wording.language).line),
    x: inAxisUnit(ends, xUnit),
    y: inAxisUnit(
      ends.map((at) => intercept.value + slope.value * at),
      yUnit,
    ),
  };
}

/** Places along a line, and the standard uncertainty of the line at each, SI; JCGM 100, 5.2.2. */
function uncertaintyOfLine({ x, covariance }: FitReport): {
  readonly at: Float64Array;
  readonly u: Float64Array;
} {
  const { low, high } = extremesOf(x.values);
  const at = Float64Array.from(
    { length: BAND_PLACES },
    (_, i) => low + ((high - low) * i) / (BAND_PLACES - 1),
  );
  const [v00, v01, , v11] = covariance;
  return { at, u: at.map((place) => Math.sqrt(Math.max(0, v00 + 2 * v01 * place + v11 * place * place))) };
}

function bandOfLine(report: FitReport, xUnit: AxisUnit, yUnit: AxisUnit, name: string): BandMark {
  const [intercept, slope] = report.parameters;
  const { at, u } = uncertaintyOfLine(report);
  const along = (sign: number): Float64Array =>
    at.map((place, i) => intercept.value + slope.value * place + sign * u[i]);
  return {
    kind: 'band',
    role: 'fit',
    name: upright(name),
    x: inAxisUnit(at, xUnit),
    low: inAxisUnit(along(-1), yUnit),
    high: inAxisUnit(along(1), yUnit),
  };
}

/** The same band against the line: in the plot above it is often narrower than the line is wide. */
function aroundZero(report: FitReport, xUnit: AxisUnit, yUnit: AxisUnit): BandMark {
  const { at, u } = uncertaintyOfLine(report);
  const high = inAxisUnit(u, yUnit, 'interval');
  return {
    kind: 'band',
    role: 'fit',
    name: [],
    x: inAxisUnit(at, xUnit),
    low: high.map((half) => -half),
    high,
  };
}

/** The values of the fit at the readings, in the order of x. */
function curveThrough(report: FitReport, xUnit: AxisUnit, yUnit: AxisUnit, wording: Wording): CurveMark {
  const order = Array.from(report.x.values, (_, i) => i).sort(
    (a, b) => report.x.values[a] - report.x.values[b],
  );
  return {
    kind: 'curve',
    role: 'fit',
    name: nameOfFit(report, wording, phrasesOf(wording.language).fittedCurve),
    x: inAxisUnit(
      order.map((i) => report.x.values[i]),
      xUnit,
    ),
    y: inAxisUnit(
      order.map((i) => report.fitted[i]),
      yUnit,
    ),
  };
}
