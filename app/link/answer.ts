import type { Problem } from '../../src/problem/index.ts';

/** What came back from the server: the thing asked for, a refusal that says why, or nothing at all. */
export type Answer<T> =
  | { readonly kind: 'ok'; readonly value: T }
  /** The file is other than the page thought; `digest` is what it is now. */
  | { readonly kind: 'changed'; readonly digest: string }
  | { readonly kind: 'refused'; readonly status: number; readonly problems: readonly Problem[] }
  | { readonly kind: 'unreachable' };
