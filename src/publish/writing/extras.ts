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

/** What a group is asked for at its station, with the band in which its answer counts as right. SI. */
export interface AssessedResult {
  readonly name: string;
  /** What the result is, in words; may be empty. */
  readonly is: string;
  readonly unit: Unit;
  readonly expected: number;
  /** Half-width of the band of 95 % of groups. */
  readonly tolerance: number;
}

/** What a station is asked; its name is empty where the lab has no stations. */
export interface AssessedStation {
  readonly name: string;
  /** 'L = 1.2 m'; empty where nothing is set. */
  readonly set: string;
  readonly results: readonly AssessedResult[];
}

/** What some formats need besides the document: the model to be stepped, and the data. */
export interface WriterExtras {
  /** Null where no document of the lab steps a model. */
  readonly stepwise: Outcome<StepwiseModel> | null;
  readonly trials: readonly DataTable[];
  readonly lines: readonly LineTable[];
  /** What groups are asked for, station by station. */
  readonly stations: readonly AssessedStation[];
}
