import type { Expression, Scope } from '../expression/index.ts';
import { checkDimensions, parseExpression, sayDimension } from '../expression/index.ts';
import type { Outcome } from '../problem/index.ts';
import { fail, problem, succeed } from '../problem/index.ts';
import type { Dimension, Kind } from '../quantity/index.ts';
import { parseMagnitude, sameDimension } from '../quantity/index.ts';
import type { LabDocument, Path } from './document.ts';

/** A number in the lab file: fixed ('10 us', '5') or an expression of quantities ('2*R'). */
export type WrittenValue =
  | { readonly kind: 'fixed'; readonly value: number; readonly dimension: Dimension }
  | { readonly kind: 'expression'; readonly expression: Expression; readonly dimension: Dimension };

/** A text that begins like a number and is nothing but a number, its unit and spaces: no symbols, no operators. */
const BEGINS_WITH_NUMBER = /^\s*[-+−]?\s*(\d|\.\d)/;

/**
 * Reads a value that is either a number with its unit or an expression.
 *
 * '0.15 m' and '5' are numbers; 'x_0', '2*R' and '1/(2*pi)' are expressions. A text that reads as a number with a
 * known unit is one, so '5 m' is five metres even where m is a symbol.
 *
 * @param expected the dimension that the value must have, and what the value is, for the message
 * @returns the value, or problems at their places
 */
export function readWrittenValue(
  written: string | number,
  path: Path,
  document: LabDocument,
  scope: Scope,
  expected: { readonly dimension: Dimension; readonly what: string } | null,
  as: Kind = 'interval',
): Outcome<WrittenValue> {
  const text = String(written);
  const origin = document.originOf(path);
  if (BEGINS_WITH_NUMBER.test(text)) {
    const magnitude = parseMagnitude(text, as, origin);
    if (magnitude.ok) {
      const { dimension } = magnitude.value.unit;
      if (expected !== null && !sameDimension(dimension, expected.dimension)) {
        return fail(
          problem(
            'wrong-dimension',
            origin.placeAt(0),
            `"${text}" ${sayDimension(dimension)}; ${expected.what} must ${sayDimension(expected.dimension, 'have', 'be')}.`,
            dimension.every((exponent) => exponent === 0) ? 'Is its unit missing?' : undefined,
          ),
        );
      }
      return succeed({ kind: 'fixed', value: magnitude.value.value, dimension });
    }
    // '1.2 mm' with a mistyped unit is a number gone wrong, not an expression: keep the message of the number.
    if (!/[-+*/^()·×−]/.test(text.replace(/^\s*[-+−]/, '').replace(/e[-+]?\d+/i, ''))) return magnitude;
  }
  const parsed = parseExpression(text, origin);
  if (!parsed.ok) return parsed;
  const checked = checkDimensions(parsed.value, scope, expected ?? undefined);
  if (!checked.ok) return checked;
  return succeed({ kind: 'expression', expression: parsed.value, dimension: checked.value });
}
