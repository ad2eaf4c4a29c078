import { checkDimensions, compileColumns, parseExpression, simplify } from '../expression/index.ts';
import type { Column, Readings } from '../instrument/index.ts';
import type { Outcome, Problem } from '../problem/index.ts';
import { fail, nearestName, problem, succeed } from '../problem/index.ts';
import type { Path } from './document.ts';
import type { LabInstrument } from './instrument-section.ts';
import { type QuantityValues, quantityNames } from './quantity-function.ts';
import type { Surroundings } from './surroundings.ts';

/** What is written down in place of the readings. */
export type ChangeReadings = (readings: readonly Readings[], values: QuantityValues) => readonly Readings[];

type ReadingsForm = Readonly<Record<string, string | Readonly<Record<string, string>>>>;

/** A raw column of one instrument, worked out anew from its columns. */
interface ChangedColumn {
  readonly instrument: string;
  readonly column: string;
  evaluate(columns: readonly Column[], values: QuantityValues): Float64Array;
}

/**
 * Reads what is written down in place of raw readings: for each instrument an expression of its raw columns and the
 * quantities, of the column's own dimension.
 *
 * @returns null where nothing is changed
 */
export function readChangedReadings(
  form: ReadingsForm,
  path: Path,
  instruments: readonly LabInstrument[],
  around: Surroundings,
): Outcome<ChangeReadings | null> {
  const problems: Problem[] = [];
  const changes: ChangedColumn[] = [];
  for (const [name, written] of Object.entries(form)) {
    const instrument = instruments.find((candidate) => candidate.name === name);
    if (instrument === undefined) {
      problems.push(
        unknownName('unknown-instrument', `"${name}" is not an instrument of this lab.`, name, {
          known: instruments.map((candidate) => candidate.name),
          path: [...path, name],
          around,
        }),
      );
      continue;
    }
    const columns = typeof written === 'string' ? { [instrument.kind.mainColumn]: written } : written;
    for (const [column, text] of Object.entries(columns)) {
      const at = typeof written === 'string' ? [...path, name] : [...path, name, column];
      const change = readColumn(instrument, column, text, at, around);
      if (change.ok) changes.push(change.value);
      else problems.push(...change.problems);
    }
  }
  if (problems.length > 0) return fail(...problems);
  if (changes.length === 0) return succeed(null);
  return succeed((readings, values) =>
    readings.map((reading) => {
      const own = changes.filter(({ instrument }) => instrument === reading.instrument);
      if (own.length === 0) return reading;
      const columns = reading.columns.map((column): Column => {
        const change = own.find((candidate) => candidate.column === column.name);
        return change === undefined
          ? column
          : { ...column, values: change.evaluate(reading.columns, values) };
      });
      return { ...reading, columns };
    }),
  );
}

function readColumn(
  instrument: LabInstrument,
  column: string,
  text: string,
  path: Path,
  around: Surroundings,
): Outcome<ChangedColumn> {
  const shapes = instrument.kind.rawColumns(instrument.shape);
  const shape = shapes.find(({ name }) => name === column);
  if (shape === undefined) {
    const known = shapes.map(({ name }) => name);
    const message = `"${column}" is not a column of the readings of "${instrument.name}".`;
    return fail(unknownName('unknown-column', message, column, { known, path, around }));
  }
  const parsed = parseExpression(text, around.document.originOf(path));
  if (!parsed.ok) return parsed;
  const dimensions = new Map(shapes.map(({ name, dimension }) => [name, dimension]));
  const { scope } = around;
  const checked = checkDimensions(
    parsed.value,
    {
      ...scope,
      dimensionOf: (name) => dimensions.get(name) ?? scope.dimensionOf(name),
      names: () => [...dimensions.keys(), ...scope.names()],
    },
    { dimension: shape.dimension, what: `what is written down for "${column}"` },
  );
  if (!checked.ok) return checked;
  const names = [...dimensions.keys()];
  const symbols = quantityNames(around.quantities).filter((name) => !dimensions.has(name));
  const indices = symbols.map((name) => around.quantities.byName.get(name)?.index ?? 0);
  const compiled = compileColumns(simplify(parsed.value.tree), names, symbols, { tables: around.tables });
  return succeed({
    instrument: instrument.name,
    column,
    evaluate(columns, values) {
      const rows = columns[0]?.values.length ?? 0;
      const inputs = names.map(
        (name) => columns.find((own) => own.name === name)?.values ?? new Float64Array(rows),
      );
      const out = new Float64Array(rows);
      compiled(
        inputs,
        Float64Array.from(indices, (index) => values[index]),
        out,
      );
      return out;
    },
  });
}

function unknownName(
  code: string,
  message: string,
  name: string,
  { known, path, around }: { known: readonly string[]; path: Path; around: Surroundings },
): Problem {
  const near = nearestName(name, known);
  const advice =
    near === undefined ? `There are ${known.join(', ') || 'none yet'}.` : `Did you mean "${near}"?`;
  return problem(code, around.document.placeOfKey(path), message, advice);
}
