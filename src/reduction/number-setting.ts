import {
  checkDimensions,
  compileFunction,
  namesIn,
  number,
  parseExpression,
  type Tree,
} from '../expression/index.ts';
import { fail, type Origin, type Outcome, problem, succeed } from '../problem/index.ts';
import { type Dimension, formatDimension, parseMagnitude, sameDimension } from '../quantity/index.ts';
import { scopeOf } from './names-at-hand.ts';
import type { ReductionContext } from './step.ts';

/** A number in a setting: the same for all runs, or worked out from the quantities. */
export interface NumberSetting {
  readonly dimension: Dimension;
  readonly quantitiesRead: ReadonlySet<string>;
  readonly tree: Tree;
  /** SI. */
  valueAt(quantities: Float64Array): number;
}

const BEGINS_WITH_NUMBER = /^\s*[-+−]?\s*(\d|\.\d)/;
const HAS_OPERATOR = /[-+*/^()·×−]/;

/**
 * Reads '8 Hz', '5' or an expression of quantities such as '2*R'.
 *
 * A temperature stands for a point on its scale: a level or a start value, not a difference.
 *
 * @param expected dimension that the number must have and what it is, or null where any will do
 */
export function readNumber(
  text: string,
  origin: Origin,
  context: ReductionContext,
  expected: { readonly dimension: Dimension; readonly what: string } | null,
): Outcome<NumberSetting> {
  if (BEGINS_WITH_NUMBER.test(text)) {
    const magnitude = parseMagnitude(text, 'point', origin);
    if (magnitude.ok) {
      const { value, unit } = magnitude.value;
      if (expected !== null && !sameDimension(unit.dimension, expected.dimension)) {
        return fail(
          problem(
            'wrong-dimension',
            origin.placeAt(0),
            `"${text}" has the dimension ${formatDimension(unit.dimension)}; ${expected.what} must have ${formatDimension(expected.dimension)}.`,
          ),
        );
      }
      return succeed({
        dimension: unit.dimension,
        quantitiesRead: new Set<string>(),
        tree: number(value),
        valueAt: () => value,
      });
    }
    // A number with a mistyped unit holds no operator but the signs of the number and its exponent.
    const afterNumber = text.replace(BEGINS_WITH_NUMBER, '').replace(/e[-+]?\d+/i, '');
    if (!HAS_OPERATOR.test(afterNumber)) return magnitude;
  }
  const parsed = parseExpression(text, origin);
  if (!parsed.ok) return parsed;
  const onlyQuantities = { ...context, scalars: new Map<string, Dimension>() };
  const dimension = checkDimensions(
    parsed.value,
    scopeOf(onlyQuantities, { columns: false }),
    expected ?? undefined,
  );
  if (!dimension.ok) return dimension;
  const names = [...namesIn(parsed.value.tree)];
  const indices = names.map((name) => context.quantities.indexOf(name));
  const options = context.tables === undefined ? {} : { tables: context.tables };
  const evaluate = compileFunction([parsed.value.tree], names, options);
  const inputs = new Float64Array(names.length);
  const out = new Float64Array(1);
  return succeed({
    dimension: dimension.value,
    quantitiesRead: new Set(names),
    tree: parsed.value.tree,
    valueAt(quantities) {
      for (let i = 0; i < indices.length; i++) inputs[i] = quantities[indices[i]];
      evaluate(inputs, out);
      return out[0];
    },
  });
}
