import { extendDecimal } from './decimal-extension.ts';
import { type DoubleDouble, divide, extend, multiply } from './double-double.ts';

/** A column of n numbers, each the unevaluated sum of two doubles. */
export interface ExtendedColumn {
  readonly high: Float64Array;
  readonly low: Float64Array;
}

const SPLITTER = 134217729;

/** A column of plain numbers, copied, with low parts of zero. */
export function extendColumn(values: ArrayLike<number>): ExtendedColumn {
  return { high: Float64Array.from(values), low: new Float64Array(values.length) };
}

/** A column of readings taken as the decimal numbers they were written as. */
export function extendDecimals(values: ArrayLike<number>): ExtendedColumn {
  const out = { high: new Float64Array(values.length), low: new Float64Array(values.length) };
  for (let i = 0; i < values.length; i += 1) {
    const value = extendDecimal(values[i]);
    out.high[i] = value.high;
    out.low[i] = value.low;
  }
  return out;
}

/** Elementwise product of two columns. */
export function multiplyColumns(a: ExtendedColumn, b: ExtendedColumn): ExtendedColumn {
  const out = { high: new Float64Array(a.high.length), low: new Float64Array(a.high.length) };
  for (let i = 0; i < a.high.length; i += 1) {
    const product = multiply({ high: a.high[i], low: a.low[i] }, { high: b.high[i], low: b.low[i] });
    out.high[i] = product.high;
    out.low[i] = product.low;
  }
  return out;
}

/** Each reading divided by its standard uncertainty. */
export function divideColumn(a: ExtendedColumn, by: Float64Array): ExtendedColumn {
  const out = { high: new Float64Array(by.length), low: new Float64Array(by.length) };
  for (let i = 0; i < by.length; i += 1) {
    const quotient = divide({ high: a.high[i], low: a.low[i] }, extend(by[i]));
    out.high[i] = quotient.high;
    out.low[i] = quotient.low;
  }
  return out;
}

/** Multiplies the column in place by a power of two, which is exact. */
export function scaleColumn(a: ExtendedColumn, powerOfTwo: number): void {
  for (let i = 0; i < a.high.length; i += 1) {
    a.high[i] *= powerOfTwo;
    a.low[i] *= powerOfTwo;
  }
}

/** Scalar product of the rows from..n of two columns, to about 30 digits of the sum of the terms' sizes. */
export function dotColumns(a: ExtendedColumn, b: ExtendedColumn, from = 0): DoubleDouble {
  let high = 0;
  let low = 0;
  for (let i = from; i < a.high.length; i += 1) {
    const x = a.high[i];
    const y = b.high[i];
    const product = x * y;
    const cx = SPLITTER * x;
    const xHigh = cx - (cx - x);
    const xLow = x - xHigh;
    const cy = SPLITTER * y;
    const yHigh = cy - (cy - y);
    const yLow = y - yHigh;
    const productLow =
      xLow * yLow - (product - xHigh * yHigh - xLow * yHigh - xHigh * yLow) + (x * b.low[i] + a.low[i] * y);
    const sum = high + product;
    const part = sum - high;
    const rest = high - (sum - part) + (product - part) + (low + productLow);
    high = sum + rest;
    low = rest - (high - sum);
  }
  return { high, low };
}

/** target ← target + factor·source, on the rows from..n. */
export function addMultiple(
  target: ExtendedColumn,
  factor: DoubleDouble,
  source: ExtendedColumn,
  from = 0,
): void {
  const f = factor.high;
  const cf = SPLITTER * f;
  const fHigh = cf - (cf - f);
  const fLow = f - fHigh;
  for (let i = from; i < target.high.length; i += 1) {
    const x = source.high[i];
    const product = f * x;
    const cx = SPLITTER * x;
    const xHigh = cx - (cx - x);
    const xLow = x - xHigh;
    const productLow =
      fLow * xLow -
      (product - fHigh * xHigh - fLow * xHigh - fHigh * xLow) +
      (f * source.low[i] + factor.low * x);
    const t = target.high[i];
    const sum = t + product;
    const part = sum - t;
    const rest = t - (sum - part) + (product - part) + (target.low[i] + productLow);
    const high = sum + rest;
    target.high[i] = high;
    target.low[i] = rest - (high - sum);
  }
}
