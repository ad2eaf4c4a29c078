import type { ChoiceSpec, CountSpec, NumberSpec } from '../instrument/index.ts';

interface Described {
  readonly name: string;
  /** What the setting is, in words that the manual prints. */
  readonly what: string;
  readonly required: boolean;
}

/** Name of an instrument of the lab, of one of the given kinds. */
export interface InstrumentNameSpec extends Described {
  readonly kind: 'instrument';
  readonly kinds: readonly string[];
}

/** An expression worked out row by row, of columns, scalars and quantities. */
export interface ColumnExpressionSpec extends Described {
  readonly kind: 'column expression';
}

/** An expression of scalars and quantities. */
export interface ScalarExpressionSpec extends Described {
  readonly kind: 'scalar expression';
}

/** A condition on each row. */
export interface ConditionSpec extends Described {
  readonly kind: 'condition';
}

/** Name of a column that is there. */
export interface ColumnNameSpec extends Described {
  readonly kind: 'column';
}

/** Name, or names, under which a column or scalar is to be known. */
export interface NewNamesSpec extends Described {
  readonly kind: 'new names';
  readonly least: number;
  readonly most: number;
}

/** Symbols with a value each: `{ A: 1 V, tau: 2 s }`. */
export interface StartValuesSpec extends Described {
  readonly kind: 'start values';
}

/** Symbols with the name under which each is to be known: `{ tau: tau_fit }`. */
export interface RenamingSpec extends Described {
  readonly kind: 'renaming';
}

/** A setting of a step, as data: the reader of the lab file, the schema and the manual use it. */
export type StepSettingSpec =
  | InstrumentNameSpec
  | ColumnExpressionSpec
  | ScalarExpressionSpec
  | ConditionSpec
  | ColumnNameSpec
  | NewNamesSpec
  | StartValuesSpec
  | RenamingSpec
  | NumberSpec
  | CountSpec
  | ChoiceSpec;
