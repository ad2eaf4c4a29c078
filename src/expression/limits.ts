/** Longest text of one expression, in UTF-16 units. */
export const MAX_TEXT_LENGTH = 20_000;

/** Most nodes that one text may make. */
export const MAX_NODES = 5_000;

/** Deepest nesting of brackets, signs and functions, and longest chain of one operator. */
export const MAX_DEPTH = 200;

/** Most primes on a name: x'''' is the fourth derivative with respect to time. */
export const MAX_PRIMES = 4;

/** Most `integrate` inside the first argument of one another: each level multiplies the work by dozens. */
export const MAX_NESTED_INTEGRALS = 3;

/** Most `d` inside one another: each level multiplies the size. */
export const MAX_NESTED_DERIVATIVES = 6;

/** Most distinct nodes of a tree that the program makes by substitution or differentiation. */
export const MAX_MADE_NODES = 200_000;

/**
 * Thrown where substitution or differentiation would make a tree beyond `MAX_MADE_NODES`, or where integrals
 * have come to stand inside one another too deep. Texts within the caps reach this only through long chains
 * of definitions that use one another; who builds such chains from a user's file turns it into a problem.
 */
export class ExpressionTooLarge extends Error {
  override readonly name = 'ExpressionTooLarge';
}
