import type { BaseQuantity, LabResult } from '../../lab/index.ts';
import type { Expected, Gathered } from '../gather/index.ts';

/** How a result goes with one quantity of the plan, all others as they are. */
export interface Trend {
  readonly quantity: BaseQuantity;
  readonly result: LabResult;
  /** In the order of the quantity, SI. */
  readonly points: readonly {
    readonly setting: number;
    readonly value: number;
    readonly standardUncertainty: number;
  }[];
  readonly kind: 'larger' | 'smaller' | 'same' | 'varying';
}

/** The trends of every per-run result with every quantity that the plan varies, by the full model. */
export function findTrends({ pipeline, planned }: Gathered): readonly Trend[] {
  const varied = new Map<string, BaseQuantity>();
  for (const { group } of planned) for (const { quantity } of group.when) varied.set(quantity.name, quantity);
  return pipeline.lab.results
    .filter(({ scope }) => scope === 'run')
    .flatMap((result) =>
      [...varied.values()].flatMap((quantity): Trend[] => {
        const points = pointsOf(planned, quantity, result);
        // 'Larger' means nothing to a class where a result is negative.
        const isPlain = points.every(({ value }) => value > 0);
        return points.length < 2 || !isPlain ? [] : [{ quantity, result, points, kind: kindOf(points) }];
      }),
    );
}

/** Settings that differ from the first one in this quantity alone. */
function pointsOf(planned: Gathered['planned'], quantity: BaseQuantity, result: LabResult): Trend['points'] {
  const others = (when: Expected['settings']) =>
    when
      .filter((setting) => setting.quantity !== quantity)
      .map((setting) => `${setting.quantity.name}=${setting.value}`)
      .join(';');
  const [first] = planned;
  if (first === undefined) return [];
  return planned
    .filter(({ group }) => others(group.when) === others(first.group.when))
    .flatMap(({ group, expected }) => {
      const setting = group.when.find((candidate) => candidate.quantity === quantity)?.value;
      const found = expected.results.find((candidate) => candidate.result === result);
      return setting === undefined || found === undefined ? [] : [{ setting, ...found.full }];
    })
    .sort((a, b) => a.setting - b.setting);
}

/** A change counts where it is larger than the uncertainties that it could come from. */
function kindOf(points: Trend['points']): Trend['kind'] {
  const steps = points.slice(1).map((at, index) => at.value - (points[index]?.value ?? 0));
  const first = points[0];
  const last = points.at(-1);
  const change = (last?.value ?? 0) - (first?.value ?? 0);
  const size = Math.max(...points.map(({ value }) => Math.abs(value)));
  const u = Math.max(...points.map(({ standardUncertainty }) => standardUncertainty));
  if (Math.abs(change) < Math.max(2 * u, 1e-6 * size) && steps.every((step) => Math.abs(step) < 2 * u))
    return 'same';
  if (steps.every((step) => step > 0)) return 'larger';
  return steps.every((step) => step < 0) ? 'smaller' : 'varying';
}
