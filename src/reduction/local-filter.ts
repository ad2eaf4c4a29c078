import type { Column } from '../instrument/index.ts';
import { fail, type Outcome, type Place, problem, succeed, warning } from '../problem/index.ts';
import type { Dimension } from '../quantity/index.ts';
import { power } from '../wasm/index.ts';
import { evenWeights, type FilterWidths, highestBandwidth } from './filter-width.ts';
import { errorsOf, SharedColumn } from './lazy-column.ts';
import { LOCAL_DEGREE, localPolynomialWeights, taper } from './local-polynomial.ts';
import { weighRows, widthOfNeighbours } from './weigh-rows.ts';

/** Largest departure from even spacing, as a share of it, at which one set of weights serves all rows. */
const EVEN_ENOUGH = 1e-4;

/** A local polynomial laid through the readings around each row whose window is full. */
export interface LocalFilter {
  /** Rows with a full window. */
  readonly rows: Int32Array;
  /** Smoothed value or derivative at these rows. */
  apply(values: Float64Array, order: number): Float64Array;
  /** Most readings that one row rests on. */
  readonly reach: number;
  /** Writes the weights for the i-th of `rows`; gives the row that the first belongs to. */
  weightsAt(i: number, order: number, weights: Float64Array): number;
}

/**
 * Prepares smoothing and derivatives of given bandwidth along a column of times.
 *
 * The width of the window differs from order to order, so that each has the bandwidth; rows whose widest window
 * is not full, or too sparse, are left out. Uneven readings are fitted where they are.
 *
 * @param t           n rising times or other abscissas
 * @param bandwidthHz frequency that passes at 1/√2, in 1/[t]
 * @param orders      of the derivatives that will be asked for
 * @param halfWidths  kept from run to run
 */
export function prepareLocalFilter(
  t: Float64Array,
  bandwidthHz: number,
  orders: readonly number[],
  halfWidths: FilterWidths,
  place: Place,
): Outcome<LocalFilter> {
  const n = t.length;
  const spacing = (t[n - 1] - t[0]) / (n - 1);
  const found = checkSpacing(t, spacing, bandwidthHz, place);
  if (found !== null) return fail(found);
  const widths = new Map<number, number>();
  for (const order of orders) {
    const width = halfWidths.find(bandwidthHz, spacing, order);
    if (width === null) return fail(tooFarApart(spacing, bandwidthHz, order, place));
    widths.set(order, width);
  }
  const widest = Math.max(...widths.values());
  if (t[n - 1] - t[0] <= 2 * widest) return fail(tooShort(t[n - 1] - t[0], 2 * widest, bandwidthHz, place));
  return isEven(t, spacing)
    ? succeed(evenFilter(n, spacing, widths, widest))
    : unevenFilter(t, widths, widest, place);
}

function evenFilter(
  n: number,
  spacing: number,
  widths: ReadonlyMap<number, number>,
  widest: number,
): LocalFilter {
  const kernels = new Map(
    Array.from(widths, ([order, width]) => {
      const weights = evenWeights(width / spacing, order);
      return [order, weights.map((weight) => weight * power(spacing, -order))];
    }),
  );
  const margin = Math.ceil(widest / spacing) - 1;
  const rows = Int32Array.from({ length: n - 2 * margin }, (_, i) => margin + i);
  const kernelOf = (order: number): Float64Array => kernels.get(order) ?? new Float64Array(0);
  return {
    rows,
    reach: 2 * margin + 1,
    apply(values, order) {
      const kernel = kernelOf(order);
      const half = (kernel.length - 1) / 2;
      const out = new Float64Array(rows.length);
      for (let i = 0; i < rows.length; i++) {
        const first = rows[i] - half;
        let sum = 0;
        for (let j = 0; j < kernel.length; j++) sum += kernel[j] * values[first + j];
        out[i] = sum;
      }
      return out;
    },
    weightsAt(i, order, weights) {
      const kernel = kernelOf(order);
      weights.set(kernel);
      return rows[i] - (kernel.length - 1) / 2;
    },
  };
}

function unevenFilter(
  t: Float64Array,
  widths: ReadonlyMap<number, number>,
  widest: number,
  place: Place,
): Outcome<LocalFilter> {
  const n = t.length;
  const narrowest = Math.min(...widths.values());
  const rows: number[] = [];
  let sparse = 0;
  let reach = 1;
  for (let i = 0; i < n; i++) {
    if (t[i] - widest < t[0] || t[i] + widest > t[n - 1]) continue;
    const { first, last } = windowAround(t, i, narrowest);
    const isTwoSided = i - first >= 2 && last - i >= 2;
    if (last - first < LOCAL_DEGREE + 1 || !isTwoSided) {
      sparse += 1;
      continue;
    }
    const wide = windowAround(t, i, widest);
    reach = Math.max(reach, wide.last - wide.first + 1);
    rows.push(i);
  }
  if (rows.length === 0) {
    const message = `around no reading are there enough others within ${narrowest.toPrecision(3)} on both sides; a bandwidth this high needs them closer.`;
    return fail(problem('too-few-readings', place, message, 'Take a lower bandwidth.'));
  }
  const notes =
    sparse === 0
      ? []
      : [
          warning(
            'sparse-readings',
            place,
            `${sparse === 1 ? '1 row is' : `${sparse} rows are`} left out: too few readings stand around ${sparse === 1 ? 'it' : 'them'} for this bandwidth.`,
          ),
        ];
  const kept = Int32Array.from(rows);
  const weightsAt = (i: number, order: number, weights: Float64Array): number => {
    const width = widths.get(order) ?? widest;
    const { first, last } = windowAround(t, kept[i], width);
    const places = Float64Array.from(
      { length: last - first + 1 },
      (_, j) => (t[first + j] - t[kept[i]]) / width,
    );
    const local = localPolynomialWeights(places, places.map(taper), LOCAL_DEGREE, order);
    for (let j = 0; j < local.length; j++) weights[j] = local[j] * power(width, -order);
    return first;
  };
  const filter: LocalFilter = {
    rows: kept,
    reach,
    weightsAt,
    apply(values, order) {
      const weights = new Float64Array(reach);
      return Float64Array.from(kept, (_, i) => {
        weights.fill(0);
        const first = weightsAt(i, order, weights);
        let sum = 0;
        for (let j = 0; j < reach && first + j < n; j++) sum += weights[j] * values[first + j];
        return sum;
      });
    },
  };
  return succeed(filter, notes);
}

/** First and last row less than a half width away. */
function windowAround(t: Float64Array, i: number, width: number): { first: number; last: number } {
  let first = i;
  let last = i;
  while (first > 0 && t[i] - t[first - 1] < width) first -= 1;
  while (last + 1 < t.length && t[last + 1] - t[i] < width) last += 1;
  return { first, last };
}

function isEven(t: Float64Array, spacing: number): boolean {
  for (let i = 1; i < t.length; i++) {
    if (Math.abs(t[i] - t[i - 1] - spacing) > EVEN_ENOUGH * spacing) return false;
  }
  return true;
}

function checkSpacing(t: Float64Array, spacing: number, bandwidthHz: number, place: Place) {
  if (!(bandwidthHz > 0) || !Number.isFinite(bandwidthHz)) {
    return problem('out-of-range', place, `the bandwidth is ${bandwidthHz}; it must be above 0.`);
  }
  if (t.length < 5) {
    const count = t.length === 1 ? '1 reading is' : `${t.length} readings are`;
    return problem('too-few-readings', place, `${count} there; smoothing needs at least 5.`);
  }
  for (let i = 1; i < t.length; i++) {
    if (t[i] > t[i - 1]) continue;
    const message = `the abscissa does not rise from row ${i} to row ${i + 1}; a derivative needs it to.`;
    return problem('not-rising', place, message);
  }
  return Number.isFinite(spacing)
    ? null
    : problem('not-finite', place, 'the abscissa is not finite in every row.');
}

function tooFarApart(spacing: number, bandwidthHz: number, order: number, place: Place) {
  const highest = highestBandwidth(spacing, order);
  return problem(
    'bandwidth-too-high',
    place,
    `a bandwidth of ${bandwidthHz.toPrecision(3)} Hz is asked for, and readings ${spacing.toPrecision(3)} s apart allow at most ${highest.toPrecision(3)} Hz.`,
    'Take a lower bandwidth or a higher rate.',
  );
}

function tooShort(span: number, needed: number, bandwidthHz: number, place: Place) {
  return problem(
    'too-few-readings',
    place,
    `the readings span ${span.toPrecision(3)} s, and a bandwidth of ${bandwidthHz.toPrecision(3)} Hz needs a window of ${needed.toPrecision(3)} s around each.`,
    'Take a higher bandwidth.',
  );
}

/** A smoothed column or its derivative, at the filter's rows, with the errors of the readings that it rests on. */
export function filterColumn(
  filter: LocalFilter,
  column: Column,
  order: number,
  name: string,
  dimension: Dimension,
): Column {
  return new SharedColumn(name, filter.apply(column.values, order), dimension, () => {
    const own = errorsOf(column);
    if (own === undefined) return undefined;
    const width = widthOfNeighbours(own, column.values.length, filter.reach);
    return weighRows(own, filter.reach, width, (i, weights) => filter.weightsAt(i, order, weights));
  });
}
