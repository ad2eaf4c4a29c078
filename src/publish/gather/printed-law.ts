import { namesIn, number, simplify, substitute, type Tree } from '../../expression/index.ts';
import type { Pipeline, Quantity } from '../../lab/index.ts';
import { settingsOff } from '../../run/index.ts';

/** The law of a relation as a page shows it: short, with what its parts stand for. */
export interface PrintedLaw {
  readonly law: Tree;
  /** Helper expressions that the law or another of them names, each before those that it needs. */
  readonly parts: readonly { readonly name: string; readonly is: Tree }[];
}

/**
 * The ideal law of a relation in the author's own names: effects are switched off, a helper that is then only another
 * symbol or a number gives way to that, and an error that the lab takes as nought is left out.
 *
 * @returns null where the lab is no relation
 */
export function printedLaw({ lab }: Pipeline): PrintedLaw | null {
  if (lab.model.kind !== 'relation') return null;
  const { relation, helpers } = lab.model;
  const given = new Map<string, Tree>();
  for (const { quantity, value } of settingsOff(lab, 0)) given.set(quantity.name, number(value));
  for (const name of noughts(lab)) given.set(name, number(0));
  const known = new Map<string, Tree>();
  const idealOf = (tree: Tree): Tree => {
    const instead = new Map(given);
    for (const name of namesIn(tree)) {
      const helper = helpers.get(name);
      if (helper === undefined) continue;
      const ideal = known.get(name) ?? idealOf(helper.tree);
      known.set(name, ideal);
      if (ideal.kind === 'name' || namesIn(ideal).size === 0) instead.set(name, ideal);
    }
    return simplify(substitute(tree, instead));
  };
  const law = idealOf(relation.written.tree);
  const parts: { readonly name: string; readonly is: Tree }[] = [];
  const addPartsOf = (tree: Tree): void => {
    const own = [...namesIn(tree)].filter((name) => !parts.some((part) => part.name === name));
    for (const name of own) {
      const is = known.get(name);
      if (is === undefined || parts.some((part) => part.name === name)) continue;
      parts.push({ name, is });
      addPartsOf(is);
    }
  };
  addPartsOf(law);
  return { law, parts };
}

/** Quantities that are 0 wherever the lab is done, such as the unknown error of a meter. */
function noughts({ quantities, plan, kits, stations, trials }: Pipeline['lab']): readonly string[] {
  const set = new Set<Quantity>(
    [
      ...plan.settings.flat(),
      ...[...kits, ...stations.listed].flatMap((one) => one.set),
      ...trials.flatMap(({ when }) => when),
      ...(stations.drawn?.from ?? []),
    ].map(({ quantity }) => quantity),
  );
  return quantities.base.flatMap((own) => (own.estimate.value === 0 && !set.has(own) ? [own.name] : []));
}
