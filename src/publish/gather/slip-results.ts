import type { Lab, LabResult, Pipeline, QuantityValues } from '../../lab/index.ts';
import { type Outcome, succeed } from '../../problem/index.ts';
import { allEffects, settingsOff } from '../../run/index.ts';
import type { NamedSettings } from './lab-extras.ts';

/** What one result becomes by a slip, SI. */
export interface SlippedResult {
  readonly result: LabResult;
  /** As it should come out by the full model, and by theory where the lab has one. */
  readonly right: number;
  readonly rightTheory: number | null;
  /** As it comes out with the slip. */
  readonly slipped: number;
  readonly slippedTheory: number | null;
}

/** A slip with the numbers that it gives. */
export interface SlipResults {
  readonly slip: NamedSettings;
  /**
   * 'reckoning': the apparatus is right and the class takes wrong values for it; 'handling': the apparatus itself is
   * wrong, and the class reckons as if it were right.
   */
  readonly kind: 'reckoning' | 'handling';
  readonly results: readonly SlippedResult[];
}

/**
 * The numbers that a slip gives, by the same pipeline as everything else.
 *
 * A slip changes what the reduction and the theory are told, while the run itself is as it should be. Where that
 * changes no number, it is a slip of the hand: the run is made with it and reduced without.
 *
 * @returns fails where the slip's run or its reduction fails
 */
export function runSlip(pipeline: Pipeline, slip: NamedSettings): Outcome<SlipResults> {
  const { lab } = pipeline;
  const effects = settingsOff(lab, allEffects(lab));
  const right = pipeline.values(pipeline.nominal, effects);
  const wrong = pipeline.values(pipeline.nominal, slip.set, effects);
  const properly = reduceRun(pipeline, right, right);
  if (!properly.ok) return properly;
  const reckoned = reduceRun(pipeline, right, wrong);
  if (reckoned.ok) {
    const results = compare(lab, properly.value, reckoned.value, right, wrong);
    if (results.some(changesResult)) return succeed({ slip, kind: 'reckoning', results });
  }
  const handled = reduceRun(pipeline, wrong, right);
  if (!handled.ok) return reckoned.ok ? handled : reckoned;
  return succeed({
    slip,
    kind: 'handling',
    results: compare(lab, properly.value, handled.value, right, right),
  });
}

function compare(
  lab: Lab,
  properly: Numbers,
  slipped: Numbers,
  right: QuantityValues,
  told: QuantityValues,
): readonly SlippedResult[] {
  return lab.results.flatMap((result): SlippedResult[] => {
    const rightly = properly.get(result.name);
    const wrongly = slipped.get(result.name);
    if (rightly === undefined || wrongly === undefined) return [];
    return [
      {
        result,
        right: rightly,
        rightTheory: result.theory?.evaluate(right) ?? null,
        slipped: wrongly,
        slippedTheory: result.theory?.evaluate(told) ?? null,
      },
    ];
  });
}

/** Numbers of one run, SI, by their names. */
type Numbers = ReadonlyMap<string, number>;

/** Below this share a change is rounding in the computer. */
const ROUNDING = 1e-6;

/** Whether a slip changes a result, or what theory says of it, by more than rounding. */
export function changesResult({ right, slipped, rightTheory, slippedTheory }: SlippedResult): boolean {
  const differs = (a: number, b: number) => Math.abs(a - b) > ROUNDING * Math.abs(a);
  return (
    differs(right, slipped) ||
    (rightTheory !== null && slippedTheory !== null && differs(rightTheory, slippedTheory))
  );
}

/** Runs the apparatus with some values and reduces its readings with others. */
function reduceRun(pipeline: Pipeline, apparatus: QuantityValues, told: QuantityValues): Outcome<Numbers> {
  const run = pipeline.simulate(apparatus);
  if (!run.ok) return run;
  const reduced = pipeline.reduce(run.value.readings, told);
  if (!reduced.ok) return reduced;
  return succeed(new Map([...reduced.value.scalars].map(([name, { value }]) => [name, value])));
}
