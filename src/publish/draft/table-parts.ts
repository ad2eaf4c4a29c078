import { formatUnit, type Unit } from '../../quantity/index.ts';
import {
  type Inline,
  type Inlines,
  joinInlines,
  say,
  type TableBlock,
  type ValueInline,
} from '../document/index.ts';

/** 'v in m/s': the head of a column of bare numbers. */
export function headWithUnit(what: Inlines, unit: Unit): Inlines {
  const text = formatUnit(unit);
  return text === '' ? what : say`${what} in ${text}`;
}

/** The number alone: its unit stands in the head of the column. */
export function bareNumber(value: ValueInline): ValueInline {
  return { ...value, unit: { ...value.unit, text: '' } };
}

/** A cell that is filled in by hand. */
export const emptyCell: readonly Inline[] = [];

/** A table from its columns' heads and its rows, nothing to fill in at the end. */
export function tableOf(
  caption: Inlines,
  head: readonly (Inlines | string)[],
  align: TableBlock['align'],
  rows: readonly (readonly Inlines[])[],
): TableBlock {
  return {
    kind: 'table',
    caption,
    head: head.map((cell) => (typeof cell === 'string' ? joinInlines(cell) : cell)),
    rows,
    align,
    emptyRows: 0,
  };
}
