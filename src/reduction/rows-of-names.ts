import type { Tree } from '../expression/index.ts';

/** A name of a row program: of a column, a scalar or a quantity. */
export function nameOf(name: string): Tree {
  return { kind: 'name', name, primes: 0, span: { start: 0, end: 0 } };
}
