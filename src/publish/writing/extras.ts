import type { Outcome } from '../../problem/index.ts';
import type { Unit } from '../../quantity/index.ts';
import type { StepwiseModel } from '../stepwise/index.ts';

/** A table of raw numbers: one trial as it was read. */
export interface DataTable {
  readonly name: string;
  /** The raw file, relative to the lab's folder. */
  readonly file: string;
  readonly columns: readonly {
    readonly heading: string;
    /** Of the raw file; null where it names none. */
    readonly unit?: Unit | null;
    readonly values: ArrayLike<number>;
  }[];
}

/** Points through which a straight line is laid. */
export interface LineTable {
  readonly name: string;
  readonly x: { readonly heading: string; readonly values: ArrayLike<number> };
  readonly y: { readonly heading: string; readonly values: ArrayLike<number> };
}

/** What some formats need besides the document: the model to be stepped, and the data. */
export interface WriterExtras {
  /** Null where no document of the lab steps a model. */
  readonly stepwise: Outcome<StepwiseModel> | null;
  readonly trials: readonly DataTable[];
  readonly lines: readonly LineTable[];
}
