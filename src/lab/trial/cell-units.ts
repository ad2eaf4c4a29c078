import { beginsLikeNumber } from './cell.ts';
import { readUnitText } from './heading.ts';

/** Per column, from 0: the unit that its cells bear behind the number. */
export type CellUnits = ReadonlyMap<number, string>;

const numberWithUnit = /^([+\-−]?[\d.,]*\d)\s*([a-zA-Zµμ°%‰Ω][\w°²³µμΩ^/·*-]{0,7})$/;
const fewest = 3;

/**
 * Finds the columns in which a unit stands in every cell ('12.34 g'), as balances and hand-held meters write.
 *
 * Believed where at least three cells, and four of five that begin like a number, bear one and the same known
 * unit; a single '3,41s' among plain numbers stays what it is, a cell that is not a number.
 */
export function unitsInCells(lines: readonly (readonly string[])[]): CellUnits {
  const counts = new Map<number, { numbers: number; units: Map<string, number> }>();
  for (const cells of lines) {
    for (const [column, text] of cells.entries()) {
      if (!beginsLikeNumber(text)) continue;
      const count = counts.get(column) ?? { numbers: 0, units: new Map<string, number>() };
      counts.set(column, count);
      count.numbers++;
      const unit = numberWithUnit.exec(text)?.[2];
      if (unit !== undefined) count.units.set(unit, (count.units.get(unit) ?? 0) + 1);
    }
  }
  const found = new Map<number, string>();
  for (const [column, { numbers, units }] of counts) {
    for (const [unit, times] of units) {
      if (times >= fewest && times >= 0.8 * numbers && readUnitText(unit) !== null) found.set(column, unit);
    }
  }
  return found;
}

/** The cells of a row without the units that their columns bear; other text stays. */
export function withoutUnits(cells: readonly string[], units: CellUnits): readonly string[] {
  if (units.size === 0) return cells;
  return cells.map((text, column) => {
    const unit = units.get(column);
    if (unit === undefined || !text.endsWith(unit)) return text;
    const bare = text.slice(0, -unit.length).trimEnd();
    return /^[+\-−]?[\d.,]*\d$/.test(bare) ? bare : text;
  });
}
