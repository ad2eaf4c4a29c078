import type { Expression, Tree } from '../expression/index.ts';
import type { Place } from '../problem/index.ts';

/** Where an expression, or a part of it, stands in the user's file; in words where it is in none. */
export function placeOf(expression: Expression, words: string, part: Tree = expression.tree): Place {
  return expression.origin?.placeAt(part.span.start) ?? { step: words };
}
