import type { Lab, Setting, TrialRun } from '../lab/index.ts';
import { inItsUnit } from '../lab/index.ts';

/** Runs taken, or to be taken, under the same settings. */
export interface RunGroup {
  readonly when: readonly Setting[];
  /** 'L = 1.2 m', or 'as given' where nothing is set. */
  readonly label: string;
  /** Real runs; those that are set aside are not among them. */
  readonly trials: readonly TrialRun[];
}

/**
 * Sorts trials into groups of equal settings, in the order of their first appearance.
 *
 * Where there are no trials, the groups are the settings of the plan, or one group as given.
 */
export function groupRuns(lab: Lab, trials: readonly TrialRun[]): readonly RunGroup[] {
  const used = trials.filter((trial) => trial.entry.setAside === null);
  if (used.length === 0) return plannedGroups(lab);
  const groups = new Map<string, { when: readonly Setting[]; trials: TrialRun[] }>();
  for (const trial of used) {
    const key = keyOf(trial.entry.when);
    const group = groups.get(key);
    if (group === undefined) groups.set(key, { when: trial.entry.when, trials: [trial] });
    else group.trials.push(trial);
  }
  return [...groups.values()].map((group) => ({ ...group, label: labelSettings(group.when) }));
}

/** The groups that the plan asks for, without trials. */
export function plannedGroups(lab: Lab): readonly RunGroup[] {
  return lab.plan.settings.map((when) => ({ when, label: labelSettings(when), trials: [] }));
}

/** 'L = 1.2 m, m_t = 250 g'. */
export function labelSettings(when: readonly Setting[]): string {
  if (when.length === 0) return 'as given';
  return when.map(({ quantity, value }) => `${quantity.name} = ${inItsUnit(quantity, value)}`).join(', ');
}

/** The group whose settings are the lab's own values, else the first: the one that a single number stands for. */
export function mainGroup(groups: readonly RunGroup[]): number {
  const own = groups.findIndex((group) =>
    group.when.every(({ quantity, value }) => value === quantity.estimate.value),
  );
  return Math.max(own, 0);
}

function keyOf(when: readonly Setting[]): string {
  return [...when]
    .sort((a, b) => a.quantity.index - b.quantity.index)
    .map(({ quantity, value }) => `${quantity.index}=${value}`)
    .join(';');
}
