import { namesIn, substitute, type Tree } from '../expression/index.ts';
import { fail, type Outcome, type Problem, problem, succeed } from '../problem/index.ts';
import type { Named } from './model.ts';
import { placeOf } from './place-of.ts';

/**
 * The helpers with one another put in, so that each holds only parameters, states and the time.
 *
 * @returns fails where helpers need one another in a circle; each circle is told once
 */
export function inlineHelpers(helpers: readonly Named[]): Outcome<ReadonlyMap<string, Tree>> {
  const sources = new Map(helpers.map((helper) => [helper.name, helper]));
  const done = new Map<string, Tree>();
  const path: string[] = [];
  const problems: Problem[] = [];
  const visit = (helper: Named): void => {
    if (done.has(helper.name)) return;
    const at = path.indexOf(helper.name);
    if (at >= 0) {
      problems.push(tellCircle(helper, path.slice(at)));
      return;
    }
    path.push(helper.name);
    for (const name of namesIn(helper.expression.tree)) {
      const needed = sources.get(name);
      if (needed !== undefined) visit(needed);
    }
    path.pop();
    done.set(helper.name, substitute(helper.expression.tree, done));
  };
  for (const helper of helpers) visit(helper);
  return problems.length > 0 ? fail(...problems) : succeed(done);
}

function tellCircle(helper: Named, circle: readonly string[]): Problem {
  const way = [...circle, helper.name].map((name) => `"${name}"`).join(' needs ');
  return problem(
    'circular-definition',
    placeOf(helper.expression, `where, ${helper.name}`),
    circle.length === 1
      ? `The helper "${helper.name}" is defined by itself; a helper must end at quantities, states and the time.`
      : `The helpers are defined in a circle: ${way}. One of them must end at quantities, states and the time.`,
  );
}
