import { call, type Tree } from '../expression/index.ts';

const nowhere = { start: 0, end: 0 };

/** A name of a row program: of a column, a scalar or a quantity. */
export function nameOf(name: string): Tree {
  return { kind: 'name', name, primes: 0, span: nowhere };
}

/** left < right. */
export function smaller(left: Tree, right: Tree): Tree {
  return { kind: 'compare', operator: '<', left, right, span: nowhere };
}

/** left <= right. */
export function notLarger(left: Tree, right: Tree): Tree {
  return { kind: 'compare', operator: '<=', left, right, span: nowhere };
}

/** |of|. */
export function size(of: Tree): Tree {
  return call('abs', of);
}
