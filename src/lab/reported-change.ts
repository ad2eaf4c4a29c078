import { checkDimensions, compileFunction, parseExpression } from '../expression/index.ts';
import type { Outcome, Problem } from '../problem/index.ts';
import { fail, nearestName, problem, succeed } from '../problem/index.ts';
import type { Path } from './document.ts';
import { type QuantityValues, quantityNames } from './quantity-function.ts';
import type { LabResult } from './result-section.ts';
import type { Surroundings } from './surroundings.ts';

/** A result that is reported changed. */
export interface ReportedChange {
  readonly result: LabResult;
  /**
   * The number that is reported, SI.
   *
   * @param results the right numbers, in the order of the lab's results
   */
  evaluate(results: Float64Array, values: QuantityValues): number;
}

/**
 * Reads what is reported in place of results: an expression of results and quantities.
 *
 * Its dimension is free: whoever turns a slope upside down keeps the unit all the same.
 */
export function readReported(
  form: Readonly<Record<string, string | number>>,
  path: Path,
  results: readonly LabResult[],
  around: Surroundings,
): Outcome<readonly ReportedChange[]> {
  const { document, scope, quantities, tables } = around;
  const problems: Problem[] = [];
  const dimensions = new Map(results.map(({ name, unit }) => [name, unit.dimension]));
  const symbols = quantityNames(quantities).filter((name) => !dimensions.has(name));
  const indices = symbols.map((name) => quantities.byName.get(name)?.index ?? 0);
  const changes = Object.entries(form).flatMap(([name, written]): ReportedChange[] => {
    const result = results.find((candidate) => candidate.name === name);
    if (result === undefined) {
      const near = nearestName(name, dimensions.keys());
      problems.push(
        problem(
          'unknown-result',
          document.placeOfKey([...path, name]),
          `"${name}" is not a result of this lab.`,
          near === undefined ? `They are ${[...dimensions.keys()].join(', ')}.` : `Did you mean "${near}"?`,
        ),
      );
      return [];
    }
    const parsed = parseExpression(String(written), document.originOf([...path, name]));
    const checked = parsed.ok
      ? checkDimensions(parsed.value, {
          ...scope,
          dimensionOf: (symbol) => dimensions.get(symbol) ?? scope.dimensionOf(symbol),
          names: () => [...dimensions.keys(), ...scope.names()],
        })
      : parsed;
    if (!parsed.ok || !checked.ok) {
      problems.push(...(checked.ok ? [] : checked.problems));
      return [];
    }
    const compiled = compileFunction([parsed.value.tree], [...dimensions.keys(), ...symbols], { tables });
    const out = new Float64Array(1);
    return [
      {
        result,
        evaluate(numbers, values) {
          compiled(Float64Array.of(...numbers, ...indices.map((index) => values[index])), out);
          return out[0];
        },
      },
    ];
  });
  return problems.length > 0 ? fail(...problems) : succeed(changes);
}
