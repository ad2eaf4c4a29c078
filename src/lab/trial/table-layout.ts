import type { Unit } from '../../quantity/index.ts';
import type { CellUnits } from './cell-units.ts';
import type { SideBySide } from './runs.ts';
import type { ColumnKind, Row } from './shape.ts';

/** Where the table stands and what its columns are called. */
export interface Layout {
  readonly width: number;
  readonly kinds: readonly ColumnKind[];
  /** Units that stand in the cells of a column. */
  readonly cellUnits: CellUnits;
  /** Per column, as written; '' where there is none. */
  readonly headings: readonly string[];
  /** Per column: the unit from a row of units, or null. */
  readonly unitsOfRow: readonly (Unit | null)[];
  /** Per column: the text in the row of units, '' where there is none. */
  readonly unitTexts: readonly string[];
  readonly side: SideBySide;
  /** A label that stands alone above the heading: of the whole stretch of lines; '' where there is none. */
  readonly blockLabel: string;
  readonly headingRows: readonly Row[];
  readonly unitLine: number | null;
  readonly labelLine: number | null;
  readonly preambleLines: number;
}
