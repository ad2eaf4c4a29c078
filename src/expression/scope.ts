import type { Dimension } from '../quantity/index.ts';
import type { Table } from './table.ts';

/** What the names of an expression mean, as far as dimensions go. */
export interface Scope {
  /** Dimension of a symbol; undefined where it is not known. */
  dimensionOf(name: string): Dimension | undefined;
  /** All known symbols, for advice on mistyped ones. */
  names(): Iterable<string>;
  readonly tables?: ReadonlyMap<string, Table>;
  /** Names that may bear primes: the states. */
  readonly primes?: ReadonlySet<string>;
  /** Dimension of time, by which a prime divides. */
  readonly time: Dimension;
}

/** What a value is wanted for: its dimension, and in words ('the rate of v'). */
export interface Expected {
  readonly dimension: Dimension;
  readonly what: string;
}
