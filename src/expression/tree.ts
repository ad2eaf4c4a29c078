import type { Origin } from '../problem/index.ts';

/** Offsets into the expression's text: [start, end). Nodes that the program makes carry the span they came from. */
export interface Span {
  readonly start: number;
  readonly end: number;
}

export type ArithmeticOperator = '+' | '-' | '*' | '/' | '^';
export type ComparisonOperator = '<' | '<=' | '>' | '>=';

/**
 * The checked tree of an expression: a closed set of node kinds.
 *
 * - `number`: a plain number, or one with its unit (`unit` as written, `value` in SI) as a side of a comparison.
 * - `name`: a symbol; `primes` counts the time derivatives asked for (`x''` has 2).
 * - `call`: a function of the closed set; for `integrate(f, s, a, b)` and `d(f, x)` the second argument is a name.
 * - `choose`: made by the program, never parsed: `whenTrue` where `selector` > 0, `whenFalse` elsewhere.
 */
export type Tree =
  | { readonly kind: 'number'; readonly value: number; readonly unit?: string; readonly span: Span }
  | { readonly kind: 'name'; readonly name: string; readonly primes: number; readonly span: Span }
  | { readonly kind: 'negate'; readonly operand: Tree; readonly span: Span }
  | {
      readonly kind: 'arithmetic';
      readonly operator: ArithmeticOperator;
      readonly left: Tree;
      readonly right: Tree;
      readonly span: Span;
    }
  | { readonly kind: 'call'; readonly name: string; readonly arguments: readonly Tree[]; readonly span: Span }
  | {
      readonly kind: 'compare';
      readonly operator: ComparisonOperator;
      readonly left: Tree;
      readonly right: Tree;
      readonly span: Span;
    }
  | {
      readonly kind: 'logic';
      readonly operator: 'and' | 'or';
      readonly left: Tree;
      readonly right: Tree;
      readonly span: Span;
    }
  | { readonly kind: 'not'; readonly operand: Tree; readonly span: Span }
  | {
      readonly kind: 'choose';
      readonly selector: Tree;
      readonly whenTrue: Tree;
      readonly whenFalse: Tree;
      readonly span: Span;
    };

/** A parsed text: the tree, and where the text stands in the user's file. */
export interface Expression {
  readonly text: string;
  readonly tree: Tree;
  readonly origin?: Origin;
}
