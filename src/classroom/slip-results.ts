import type { LabResult, Pipeline, Slip } from '../lab/index.ts';
import { type Outcome, succeed } from '../problem/index.ts';
import { applySlips, handledBy, toldBy } from './apply-slips.ts';
import { type Bench, createBench, type GroupResults } from './bench.ts';

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
  readonly slip: Slip;
  /**
   * 'reckoning': the apparatus is right and the class goes wrong with its readings; 'handling': the apparatus itself
   * is wrong, and the class reckons as if it were right.
   */
  readonly kind: 'reckoning' | 'handling';
  readonly results: readonly SlippedResult[];
}

/** Below this share a change is rounding in the computer. */
const ROUNDING = 1e-6;

/**
 * The numbers that a slip of the lab as given comes to, by the same pipeline as everything else.
 *
 * @returns fails where the slip's run or its reduction fails
 */
export function runSlip(pipeline: Pipeline, slip: Slip): Outcome<SlipResults> {
  const bench = createBench(pipeline, []);
  const settled = settleSlip(bench, slip);
  return settled.ok ? succeed(settled.value.results, settled.warnings) : settled;
}

/** A slip told as what it is: of the reckoning, or of the hand. */
export interface SettledSlip {
  readonly slip: Slip;
  readonly results: SlipResults;
}

/**
 * Finds out what a slip that sets values is: where reckoning with them changes a result or a theory, it is a slip of
 * the reckoning; where they change nothing, the apparatus must have them, while the class reckons as it should.
 */
export function settleSlip(bench: Bench, slip: Slip): Outcome<SettledSlip> {
  const { pipeline } = bench;
  const right = bench.takeRuns(pipeline.nominal, null);
  if (!right.ok) return right;
  const properly = bench.reduce(right.value);
  if (!properly.ok) return properly;
  const reckoned = slip.apparatus.length > 0 ? null : applySlips(bench, [slip], right.value);
  if (reckoned?.ok === true) {
    const results = compare(bench, properly.value, reckoned.value, [slip]);
    if (slip.set.length === 0 || results.some(changesResult))
      return succeed({ slip, results: { slip, kind: 'reckoning', results } });
  }
  if (reckoned?.ok === false && slip.set.length === 0) return reckoned;
  const byHand: Slip = slip.apparatus.length > 0 ? slip : { ...slip, set: [], apparatus: slip.set };
  const taken = bench.takeRuns(pipeline.nominal, null, undefined, handledBy([byHand]));
  const handled = taken.ok ? applySlips(bench, [byHand], taken.value) : taken;
  if (!handled.ok) return reckoned?.ok === false ? reckoned : handled;
  const results = compare(bench, properly.value, handled.value, [byHand]);
  return succeed({ slip: byHand, results: { slip, kind: 'handling', results } });
}

function compare(
  bench: Bench,
  properly: GroupResults,
  slipped: GroupResults,
  slips: readonly Slip[],
): readonly SlippedResult[] {
  const right = bench.told[bench.main];
  const wrong = toldBy(bench, slips)[bench.main];
  return bench.pipeline.lab.results.map((result, index) => ({
    result,
    right: properly.values[index],
    rightTheory: result.theory?.evaluate(right) ?? null,
    slipped: slipped.values[index],
    slippedTheory: result.theory?.evaluate(wrong) ?? null,
  }));
}

/** Whether a slip changes a result, or what theory says of it, by more than rounding. */
export function changesResult({ right, slipped, rightTheory, slippedTheory }: SlippedResult): boolean {
  return (
    differs(right, slipped) ||
    (rightTheory !== null && slippedTheory !== null && differs(rightTheory, slippedTheory))
  );
}

/** Whether a number differs from another by more than rounding. */
export function differs(a: number, b: number): boolean {
  return Math.abs(a - b) > ROUNDING * Math.abs(a);
}
