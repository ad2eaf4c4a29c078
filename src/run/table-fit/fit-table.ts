import { checkEquation, namesIn, parseEquation } from '../../expression/index.ts';
import type { TableColumn, TrialTable } from '../../lab/index.ts';
import type { Outcome, Place } from '../../problem/index.ts';
import { fail, succeed } from '../../problem/index.ts';
import { dimensionless } from '../../quantity/index.ts';
import { checkGivenNames, chooseSymbols } from './choose-symbols.ts';
import { columnsBySymbol, readRows } from './read-rows.ts';
import { evaluateColumn, type Fitted, runFit } from './run-fit.ts';
import type { Setting, TableFit, TableFitRequest } from './table-fit.ts';

/**
 * Fits any expression to the columns of a table.
 *
 * Symbols that are neither columns nor constants are the parameters. An expression that is linear in all of them
 * needs no start. Numbers are those of the file, in its own units.
 *
 * Fails where a symbol is missing, a parameter has no start, or as the fits of `inference` do.
 */
export function fitTable(table: TrialTable, request: TableFitRequest, file: string): Outcome<TableFit> {
  const place: Place = { file, step: 'fit' };
  const equation = parseEquation(request.of, {
    placeAt: (offset) => ({ step: `fit, character ${offset + 1} of the expression` }),
  });
  if (!equation.ok) return equation;
  const columns = columnsBySymbol(table, request.run);
  const known = [...columns.keys()];
  // Numbers are taken as they stand in the file, so every symbol counts as a plain number here.
  const plain = checkEquation(equation.value, {
    dimensionOf: () => dimensionless,
    names: () => known,
    time: dimensionless,
  });
  if (!plain.ok) return plain;
  const left = equation.value.left.tree;
  const right = equation.value.right.tree;
  const chosen = chooseSymbols(left, right, columns, place);
  if (!chosen.ok) return chosen;
  const { variables, parameters } = chosen.value;
  const given = readRows(table, columns, variables, request, place);
  if (!given.ok) return given;
  const problemsOfNames = checkGivenNames(request, parameters, place);
  if (problemsOfNames.length > 0) return fail(...problemsOfNames);
  const setting: Setting = { left, right, parameters, request, place, ...given.value };
  const fitted = runFit(setting);
  if (!fitted.ok) return fitted;
  return succeed(report(setting, fitted.value, columns), [...given.warnings, ...fitted.warnings]);
}

function report(
  setting: Setting,
  { fit, kind }: Fitted,
  columns: ReadonlyMap<string, TableColumn>,
): TableFit {
  const onRight = [...namesIn(setting.right)].filter((name) => setting.variables.has(name));
  const [symbol, ...more] = onRight;
  const values = symbol === undefined || more.length > 0 ? undefined : setting.variables.get(symbol);
  const y = evaluateColumn(setting.left, setting);
  return {
    parameters: setting.parameters.map((name, index) => ({
      name,
      value: fit.parameters[index],
      standardUncertainty: fit.standardUncertainties[index],
    })),
    fit,
    kind,
    readings: setting.n,
    leftOut: setting.leftOut,
    columns: [...setting.variables.keys()].flatMap((name) => {
      const column = columns.get(name);
      return column === undefined ? [] : [{ symbol: name, heading: column.heading }];
    }),
    x: symbol === undefined || values === undefined ? null : { symbol, values },
    y,
    fitted: y.map((value, index) => value - fit.residuals[index]),
  };
}
