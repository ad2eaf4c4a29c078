import type { Scope } from '../expression/index.ts';
import type { Dimension } from '../quantity/index.ts';
import type { ReductionContext, RowSet } from './step.ts';
import { SECOND } from './usual-dimensions.ts';

/** What an expression may name, apart from columns; further symbols are those of a fit. */
export interface NamesAllowed {
  readonly columns: boolean;
  readonly further?: ReadonlyMap<string, Dimension>;
}

/** The symbols of a context as the check of dimensions wants them; a column hides no quantity. */
export function scopeOf(context: ReductionContext, allowed: NamesAllowed): Scope {
  const base = {
    dimensionOf: (name: string): Dimension | undefined =>
      allowed.further?.get(name) ??
      (allowed.columns ? context.columns.get(name)?.dimension : undefined) ??
      context.scalars.get(name) ??
      context.dimensionOfQuantity(name),
    names: (): Iterable<string> => [
      ...(allowed.further?.keys() ?? []),
      ...(allowed.columns ? context.columns.keys() : []),
      ...context.scalars.keys(),
      ...context.quantities,
    ],
    time: SECOND,
  };
  return context.tables === undefined ? base : { ...base, tables: context.tables };
}

/** The names of an expression, by what they stand for. */
export interface SortedNames {
  readonly columns: readonly string[];
  readonly scalars: readonly string[];
  readonly quantities: readonly string[];
  readonly further: readonly string[];
  /** The sets of rows that the columns are of; one where the expression can be worked out row by row. */
  readonly rowSets: readonly RowSet[];
}

/** Sorts names as `scopeOf` resolves them. */
export function sortNames(
  names: Iterable<string>,
  context: ReductionContext,
  allowed: NamesAllowed,
): SortedNames {
  const sorted = {
    columns: [] as string[],
    scalars: [] as string[],
    quantities: [] as string[],
    further: [] as string[],
  };
  const rowSets = new Set<RowSet>();
  for (const name of names) {
    const column = allowed.columns ? context.columns.get(name) : undefined;
    if (allowed.further?.has(name)) sorted.further.push(name);
    else if (column !== undefined) {
      sorted.columns.push(name);
      rowSets.add(column.rows);
    } else if (context.scalars.has(name)) sorted.scalars.push(name);
    else sorted.quantities.push(name);
  }
  return { ...sorted, rowSets: [...rowSets] };
}
