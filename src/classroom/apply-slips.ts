import { type Pipeline, type QuantityValues, type Setting, type Slip, withReduction } from '../lab/index.ts';
import { type Outcome, succeed } from '../problem/index.ts';
import type { Bench, GroupResults, TakenRuns } from './bench.ts';

/**
 * What a group reports that made slips: readings written down wrongly, reckoned with wrong values, reduced by wrong
 * steps, reported changed, in this order.
 *
 * @param runs the readings as they are; slips of the hand must be in them already
 */
export function applySlips(bench: Bench, slips: readonly Slip[], runs: TakenRuns): Outcome<GroupResults> {
  const told = slips.some(({ set }) => set.length > 0) ? toldBy(bench, slips) : bench.told;
  const readings = slips.flatMap(({ readings: change }) => change ?? []);
  const written =
    readings.length === 0
      ? runs
      : runs.map(({ group, readings: own }) => ({
          group,
          readings: readings.reduce((so, change) => change(so, bench.told[group]), own),
        }));
  const by = slips.reduce<Pipeline>(
    (pipeline, { reduction }) => (reduction === null ? pipeline : withReduction(pipeline, reduction)),
    bench.pipeline,
  );
  const results = bench.reduce(written, told, by);
  if (!results.ok) return results;
  const reported = slips.flatMap((slip) => slip.reported);
  if (reported.length === 0) return results;
  const { lab } = bench.pipeline;
  const { values, uncertainties, runs: ofRuns } = results.value;
  let changed = values;
  for (const { result, evaluate } of reported) {
    const next = Float64Array.from(changed);
    next[lab.results.indexOf(result)] = evaluate(changed, told[bench.main]);
    changed = next;
  }
  return succeed({ values: changed, uncertainties, runs: ofRuns });
}

/** What is reckoned with, one vector a group of runs. */
export function toldBy(bench: Bench, slips: readonly Slip[]): readonly QuantityValues[] {
  const { pipeline, groups, told } = bench;
  return groups.map(({ when }, group) => {
    const wrong = slips.flatMap(({ set }) =>
      set.map(({ quantity, valueAt }): Setting => ({ quantity, value: valueAt(told[group]) })),
    );
    return pipeline.values(pipeline.nominal, when, wrong);
  });
}

/** Settings of the apparatus that slips of the hand bring about. */
export function handledBy(slips: readonly Slip[]): (values: QuantityValues) => readonly Setting[] {
  return (values) =>
    slips.flatMap(({ apparatus }) =>
      apparatus.map(({ quantity, valueAt }): Setting => ({ quantity, value: valueAt(values) })),
    );
}

/** Whether two slips can be made together: they change different things. */
export function canBeMadeTogether(one: Slip, other: Slip): boolean {
  const quantities = ({ set, apparatus }: Slip) =>
    [...set, ...apparatus].map(({ quantity }) => quantity.name);
  const isShared = quantities(one).some((name) => quantities(other).includes(name));
  const bothReduce = one.reduction !== null && other.reduction !== null;
  const bothReport = one.reported.some(({ result }) => other.reported.some((own) => own.result === result));
  return !isShared && !bothReduce && !bothReport;
}
