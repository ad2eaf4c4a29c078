import type { Column, ErrorFamily, SharedErrors } from '../instrument/index.ts';
import { takeRows } from '../instrument/index.ts';
import type { Dimension } from '../quantity/index.ts';

/** A column whose uncertainty is worked out when it is first asked for: most simulated runs never ask. */
abstract class LazyColumn implements Column {
  readonly name: string;
  readonly values: Float64Array;
  readonly dimension: Dimension;
  #u: Float64Array | number | undefined;
  #sharedErrors: SharedErrors | null | undefined;

  constructor(name: string, values: Float64Array, dimension: Dimension) {
    this.name = name;
    this.values = values;
    this.dimension = dimension;
  }

  get u(): Float64Array | number {
    this.#u ??= this.findU();
    return this.#u;
  }

  get sharedErrors(): SharedErrors | undefined {
    if (this.#sharedErrors === undefined) this.#sharedErrors = this.findSharedErrors() ?? null;
    return this.#sharedErrors ?? undefined;
  }

  protected abstract findU(): Float64Array | number;
  protected abstract findSharedErrors(): SharedErrors | undefined;
}

/** How strongly a derived column answers to each of the columns that it is made from. */
export interface Sensitivity {
  readonly column: Column;
  /** Partial derivative, one a row; worked out when asked for. */
  derivative(): Float64Array;
}

/**
 * A column made from others row by row; its uncertainty by their partial derivatives.
 *
 * Columns that share errors are combined with their covariance, others as independent.
 * Source: JCGM 100:2008, 5.1.2 and 5.2.2.
 */
export class DerivedColumn extends LazyColumn {
  readonly #sensitivities: readonly Sensitivity[];

  constructor(
    name: string,
    values: Float64Array,
    dimension: Dimension,
    sensitivities: readonly Sensitivity[],
  ) {
    super(name, values, dimension);
    this.#sensitivities = sensitivities;
  }

  protected findU(): Float64Array | number {
    const squares = new Float64Array(this.values.length);
    const shared = this.sharedErrors;
    if (shared !== undefined) addSharedVariance(shared, squares);
    for (const { column, derivative } of this.#sensitivities) {
      if (column.sharedErrors?.family === shared?.family && shared !== undefined) continue;
      if (column.u === 0) continue;
      const slope = derivative();
      for (let i = 0; i < squares.length; i++) {
        squares[i] += (slope[i] * (typeof column.u === 'number' ? column.u : column.u[i])) ** 2;
      }
    }
    return squares.every((square) => square === 0) ? 0 : squares.map(Math.sqrt);
  }

  protected findSharedErrors(): SharedErrors | undefined {
    const parts = this.#sensitivities.flatMap(({ column, derivative }) =>
      column.sharedErrors === undefined ? [] : [{ errors: column.sharedErrors, slope: derivative() }],
    );
    if (parts.length === 0) return undefined;
    const { family } = parts[0].errors;
    return combineShared(
      family,
      parts.filter((part) => part.errors.family === family),
    );
  }
}

/** Some rows of a column. */
export class KeptColumn extends LazyColumn {
  readonly division: number;
  readonly #from: Column;
  readonly #rows: Int32Array;

  constructor(from: Column, rows: Int32Array) {
    super(from.name, takeRows(from.values, rows), from.dimension);
    this.division = from.division ?? 0;
    this.#from = from;
    this.#rows = rows;
  }

  protected findU(): Float64Array | number {
    return typeof this.#from.u === 'number' ? this.#from.u : takeRows(this.#from.u, this.#rows);
  }

  protected findSharedErrors(): SharedErrors | undefined {
    const shared = this.#from.sharedErrors;
    const rows = this.#rows;
    if (shared === undefined) return undefined;
    return { family: shared.family, width: shared.width, row: (i, out) => shared.row(rows[i], out) };
  }
}

/** A column whose errors are all shared ones, or that has none. */
export class SharedColumn extends LazyColumn {
  readonly #find: () => SharedErrors | undefined;

  /** @param find works the errors out when they are first asked for */
  constructor(
    name: string,
    values: Float64Array,
    dimension: Dimension,
    find: () => SharedErrors | undefined,
  ) {
    super(name, values, dimension);
    this.#find = find;
  }

  protected findU(): Float64Array | number {
    const shared = this.sharedErrors;
    if (shared === undefined || shared.family.standardUncertainty === 0) return 0;
    const squares = new Float64Array(this.values.length);
    addSharedVariance(shared, squares);
    return squares.map(Math.sqrt);
  }

  protected findSharedErrors(): SharedErrors | undefined {
    return this.#find();
  }
}

/** The errors of a column's rows; where none are shared, each row's own, of the size of its uncertainty. */
export function errorsOf(column: Column): SharedErrors | undefined {
  const { u } = column;
  if (column.sharedErrors !== undefined || u === 0) return column.sharedErrors;
  return {
    family: { count: column.values.length, standardUncertainty: 1 },
    width: 1,
    row(i, out) {
      out[0] = typeof u === 'number' ? u : u[i];
      return i;
    },
  };
}

/** A column without its first and last row. */
export function innerRows(name: string, column: Column): Column {
  const shared = column.sharedErrors;
  const last = column.values.length - 1;
  return {
    name,
    values: column.values.subarray(1, last),
    dimension: column.dimension,
    u: typeof column.u === 'number' ? column.u : column.u.subarray(1, last),
    division: column.division ?? 0,
    ...(shared && {
      sharedErrors: { ...shared, row: (i: number, out: Float64Array) => shared.row(i + 1, out) },
    }),
  };
}

/** A column under another name. */
export function renameColumn(column: Column, name: string): Column {
  return {
    name,
    values: column.values,
    dimension: column.dimension,
    get u() {
      return column.u;
    },
    get sharedErrors() {
      return column.sharedErrors;
    },
    division: column.division ?? 0,
  };
}

function addSharedVariance(shared: SharedErrors, squares: Float64Array): void {
  const coefficients = new Float64Array(shared.width);
  const variance = shared.family.standardUncertainty ** 2;
  for (let i = 0; i < squares.length; i++) {
    shared.row(i, coefficients);
    let sum = 0;
    for (const coefficient of coefficients) sum += coefficient * coefficient;
    squares[i] += variance * sum;
  }
}

interface SharedPart {
  readonly errors: SharedErrors;
  /** Factor of each row. */
  readonly slope: Float64Array;
}

/** Σ slope·row over parts of one family. */
export function combineShared(family: ErrorFamily, parts: readonly SharedPart[]): SharedErrors {
  const [first] = parts;
  if (parts.length === 1) {
    return {
      family,
      width: first.errors.width,
      row(i, out) {
        const start = first.errors.row(i, out);
        for (let k = 0; k < first.errors.width; k++) out[k] *= first.slope[i];
        return start;
      },
    };
  }
  // Rows of one family at one place begin within a width of each other; twice the widest holds them all.
  const width = 2 * Math.max(...parts.map((part) => part.errors.width));
  const row = new Float64Array(width);
  return {
    family,
    width,
    row(i, out) {
      const starts = parts.map((part) => part.errors.row(i, row));
      const start = Math.min(...starts);
      out.fill(0, 0, width);
      parts.forEach((part, j) => {
        part.errors.row(i, row);
        const shift = starts[j] - start;
        for (let k = 0; k < part.errors.width && k + shift < width; k++) {
          out[k + shift] += part.slope[i] * row[k];
        }
      });
      return start;
    },
  };
}

/** A column with other values and the same errors. */
export function withValues(column: Column, values: Float64Array): Column {
  return {
    name: column.name,
    values,
    dimension: column.dimension,
    get u() {
      return column.u;
    },
    get sharedErrors() {
      return column.sharedErrors;
    },
    division: column.division ?? 0,
  };
}
