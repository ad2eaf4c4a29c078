import type { Table } from '../expression/index.ts';
import { makeTable } from '../expression/index.ts';
import type { Outcome, Problem } from '../problem/index.ts';
import { fail, succeed } from '../problem/index.ts';
import { parseUnit, toSI } from '../quantity/index.ts';
import type { LabDocument, Path } from './document.ts';
import type { LabForm } from './form.ts';
import { checkSymbol } from './identifiers.ts';

export type Tables = ReadonlyMap<string, Table>;

/** Reads the tables of points that `interpolate(NAME, x)` uses: SI values, x increasing. */
export function readTables(forms: NonNullable<LabForm['tables']>, document: LabDocument): Outcome<Tables> {
  const problems: Problem[] = [];
  const tables = new Map<string, Table>();
  for (const [name, form] of Object.entries(forms)) {
    const path: Path = ['tables', name];
    const bad = checkSymbol(name, document.placeOfKey(path));
    if (bad !== null) problems.push(bad);
    const xUnit = parseUnit(form.x.unit, document.originOf([...path, 'x', 'unit']));
    const yUnit = parseUnit(form.y.unit, document.originOf([...path, 'y', 'unit']));
    if (!xUnit.ok) problems.push(...xUnit.problems);
    if (!yUnit.ok) problems.push(...yUnit.problems);
    if (!xUnit.ok || !yUnit.ok) continue;
    const points = {
      x: form.points.map((point) => toSI(point[0] ?? Number.NaN, xUnit.value, 'point')),
      y: form.points.map((point) => toSI(point[1] ?? Number.NaN, yUnit.value, 'point')),
    };
    const dimensions = { x: xUnit.value.dimension, y: yUnit.value.dimension };
    const table = makeTable(points, dimensions, document.placeOf([...path, 'points']));
    if (table.ok) tables.set(name, table.value);
    else problems.push(...table.problems);
  }
  return problems.length > 0 ? fail(...problems) : succeed(tables);
}
