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
  const groups: { when: readonly Setting[]; trials: TrialRun[] }[] = [];
  for (const trial of used) {
    const group = groups.find(({ when }) => sameSettings(when, trial.entry.when));
    if (group === undefined) groups.push({ when: trial.entry.when, trials: [trial] });
    else group.trials.push(trial);
  }
  return groups.map((group) => ({ ...group, label: labelSettings(group.when) }));
}

/**
 * The groups that the plan asks for, without trials.
 *
 * @param extra settings for every run; what they set, the plan no longer varies
 */
export function plannedGroups(lab: Lab, extra: readonly Setting[] = []): readonly RunGroup[] {
  const planned = lab.plan.settings.map((when) => [
    ...when.filter(({ quantity }) => !extra.some((setting) => setting.quantity === quantity)),
    ...extra,
  ]);
  const distinct = planned.filter(
    (when, index) => planned.findIndex((other) => sameSettings(other, when)) === index,
  );
  return distinct.map((when) => ({ when, label: labelSettings(when), trials: [] }));
}

/** 'L = 1.2 m, m_t = 250 g'. */
export function labelSettings(when: readonly Setting[]): string {
  if (when.length === 0) return 'as given';
  return when.map(({ quantity, value }) => `${quantity.name} = ${inItsUnit(quantity, value)}`).join(', ');
}

/**
 * The group whose settings are the lab's own values, else the first: the one that a single number stands for.
 *
 * @param lab where the values are those of another lab than the one that the groups were made with
 */
export function mainGroup(groups: readonly RunGroup[], lab?: Lab): number {
  const ownValue = ({ quantity }: Setting): number =>
    (lab?.quantities.base[quantity.index] ?? quantity).estimate.value;
  const own = groups.findIndex((group) =>
    group.when.every((setting) => sameValue(setting.value, ownValue(setting))),
  );
  return Math.max(own, 0);
}

/** Whether two lists set the same quantities to the same values, in whatever order. */
function sameSettings(one: readonly Setting[], other: readonly Setting[]): boolean {
  return (
    one.length === other.length &&
    one.every(({ quantity, value }) =>
      other.some((setting) => setting.quantity === quantity && sameValue(setting.value, value)),
    )
  );
}

/** 70 cm and 0.7 m are the same, though their binary numbers differ in the last place. */
function sameValue(one: number, other: number): boolean {
  return Math.abs(one - other) <= 1e-12 * Math.max(Math.abs(one), Math.abs(other));
}
