import { dampedSearch, type Limits, type SearchOptions, type SearchResult } from './damped-search.ts';
import { findLinearParameters } from './linear-parameters.ts';
import type { Evaluate, Objective } from './objective.ts';

export type Found =
  | { readonly kind: 'found'; readonly parameters: Float64Array }
  | { readonly kind: 'outside-domain' }
  | { readonly kind: 'aborted' };

export interface PathOptions {
  readonly limits: Limits;
  readonly mostEvaluations: number;
  readonly effort: 'thorough' | 'single';
  readonly signal?: { readonly aborted: boolean };
}

const SAME_MINIMUM = 1e-9;

/**
 * Searches from a start along different paths and keeps the best end.
 *
 * Far from the minimum no single rule serves: a search in all parameters can run into a plain without slope
 * where one that eliminates the linear ones does not, and the other way round. Where two agree, that is it;
 * where they do not, two more of another temper are asked.
 */
export function searchAll(
  objective: Objective,
  evaluate: Evaluate,
  start: Float64Array,
  options: PathOptions,
): Found {
  const base: SearchOptions = {
    limits: options.limits,
    linear: [],
    firstDamping: 1e-3,
    scaling: 'largest',
    mostEvaluations: options.mostEvaluations,
    signal: options.signal,
  };
  const results: SearchResult[] = [];
  const run = (change: Partial<SearchOptions>): void => {
    results.push(dampedSearch(objective, start, { ...base, ...change }));
  };
  run({});
  const finite = results[0].cost < Number.POSITIVE_INFINITY;
  if (options.effort === 'thorough') {
    const linear = findLinearParameters(evaluate, objective.n, start).filter(
      (j) =>
        options.limits.low[j] === Number.NEGATIVE_INFINITY &&
        options.limits.high[j] === Number.POSITIVE_INFINITY,
    );
    if (linear.length > 0) run({ linear });
    if (finite && !agree(results)) {
      run({ scaling: 'present', firstDamping: 1 });
      run({ firstDamping: 100 });
    }
  }
  if (options.signal?.aborted) return { kind: 'aborted' };
  let best: SearchResult | null = null;
  // The same minimum with parameters of like terms exchanged counts as no better: the first path stays nearest
  // to the roles that the start gave them.
  for (const result of results) {
    if (best === null || result.cost < best.cost * (1 - SAME_MINIMUM)) best = result;
  }
  if (best === null || best.cost === Number.POSITIVE_INFINITY) return { kind: 'outside-domain' };
  return { kind: 'found', parameters: best.parameters };
}

/** Whether two searches came to rest at the same cost. */
function agree(results: readonly SearchResult[]): boolean {
  if (results.length < 2) return false;
  const [first, second] = results;
  const least = Math.min(first.cost, second.cost);
  return (
    first.ending !== 'exhausted' &&
    second.ending !== 'exhausted' &&
    Math.abs(first.cost - second.cost) <= SAME_MINIMUM * least
  );
}
