/** A cell of a sheet: a number, words, or a time in seconds from 1 January 1970 or from midnight. */
export type SheetCell = number | string | { readonly seconds: number; readonly dated: boolean } | null;

export interface Sheet {
  readonly name: string;
  readonly rows: readonly (readonly SheetCell[])[];
}
