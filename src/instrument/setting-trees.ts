import { number, type Tree } from '../expression/index.ts';

/**
 * Settings as expressions of the lab's quantities: a tree for each number, several for a list or a range, words as
 * they are. Those that were not given and have no default are absent.
 */
export type SettingTrees = ReadonlyMap<string, Tree | readonly Tree[] | string>;

/** The expression of a setting that is one number, or a plain number where it is absent. */
export function treeOf(settings: SettingTrees, name: string, otherwise: number): Tree {
  const found = settings.get(name);
  return found === undefined || typeof found === 'string' || !('kind' in found) ? number(otherwise) : found;
}

/** The expressions of a setting that is several numbers, or undefined where it is absent. */
export function treesOf(settings: SettingTrees, name: string): readonly Tree[] | undefined {
  const found = settings.get(name);
  return found === undefined || typeof found === 'string' || 'kind' in found ? undefined : found;
}
