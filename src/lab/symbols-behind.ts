import type { Expression } from '../expression/index.ts';
import { namesIn } from '../expression/index.ts';
import type { Helpers } from './surroundings.ts';

/** The symbols that expressions rest on, directly or through helper expressions. */
export function symbolsBehind(expressions: readonly Expression[], helpers: Helpers): Set<string> {
  const found = new Set<string>();
  const waiting = expressions.flatMap(({ tree }) => [...namesIn(tree)]);
  for (let name = waiting.pop(); name !== undefined; name = waiting.pop()) {
    if (found.has(name)) continue;
    found.add(name);
    const helper = helpers.get(name);
    if (helper !== undefined) waiting.push(...namesIn(helper.tree));
  }
  return found;
}
