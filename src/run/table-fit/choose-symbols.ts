import { CONSTANTS, namesIn, type Tree, walkTree } from '../../expression/index.ts';
import type { TableColumn } from '../../lab/index.ts';
import type { Outcome, Place, Problem } from '../../problem/index.ts';
import { fail, listNames, nearestName, problem, succeed } from '../../problem/index.ts';
import type { TableFitRequest } from './table-fit.ts';

/** Sorts the symbols of an equation into columns and parameters. */
export function chooseSymbols(
  left: Tree,
  right: Tree,
  columns: ReadonlyMap<string, TableColumn>,
  place: Place,
): Outcome<{ readonly variables: readonly string[]; readonly parameters: readonly string[] }> {
  const problems: Problem[] = [];
  const known = [...columns.keys()];
  const onLeft = [...namesIn(left)];
  for (const name of onLeft) {
    if (columns.has(name)) continue;
    const near = nearestName(name, known);
    problems.push(
      problem(
        'unknown-column',
        place,
        `"${name}" stands on the left of the expression and is not a column; the columns are ${known.join(', ')}.`,
        near === undefined ? undefined : `Did you mean "${near}"?`,
      ),
    );
  }
  const onRight = inOrderOfWriting(right).filter((name) => !CONSTANTS.has(name));
  const parameters = onRight.filter((name) => !columns.has(name));
  if (parameters.length === 0) {
    problems.push(
      problem(
        'nothing-free',
        place,
        `The expression has no parameter: ${onRight.length === 0 ? 'it has no symbol at all' : onRight.length === 1 ? `${onRight[0]} is a column` : `${listNames(onRight)} are columns`}. A symbol that is no column is a parameter.`,
      ),
    );
  }
  if (problems.length > 0) return fail(...problems);
  return succeed({
    variables: [...new Set([...onLeft, ...onRight.filter((name) => columns.has(name))])],
    parameters,
  });
}

/** Problems of starts and bounds that are given for symbols which are no parameters. */
export function checkGivenNames(
  request: TableFitRequest,
  parameters: readonly string[],
  place: Place,
): readonly Problem[] {
  const given = [...request.start.keys(), ...(request.bounds?.keys() ?? [])];
  return given
    .filter((name) => !parameters.includes(name))
    .map((name) => {
      const near = nearestName(name, parameters);
      return problem(
        'unknown-parameter',
        place,
        `"${name}" is not a parameter of the expression; its parameters are ${parameters.join(', ')}.`,
        near === undefined ? undefined : `Did you mean "${near}"?`,
      );
    });
}

/** The names of an expression in the order in which a reader meets them. */
function inOrderOfWriting(tree: Tree): readonly string[] {
  const first = new Map<string, number>();
  walkTree(tree, (node) => {
    if (node.kind === 'name')
      first.set(node.name, Math.min(first.get(node.name) ?? Number.POSITIVE_INFINITY, node.span.start));
  });
  return [...namesIn(tree)].sort((a, b) => (first.get(a) ?? 0) - (first.get(b) ?? 0));
}
