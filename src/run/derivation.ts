import type { Motion } from '../evolve/index.ts';
import { compileFunction, nodesOf, resolvePrimes, type Tree } from '../expression/index.ts';
import { randomSource } from '../inference/index.ts';
import type { DerivationLine, Lab, Pipeline, QuantityValues } from '../lab/index.ts';
import { quantityNames } from '../lab/index.ts';
import type { Outcome } from '../problem/index.ts';
import { succeed } from '../problem/index.ts';
import { settingsOff } from './outputs.ts';

/** What is known of one line: true at every point tried, or false at one, with both sides there (SI). */
export type LineVerdict =
  | { readonly line: DerivationLine; readonly verdict: 'true' }
  | {
      readonly line: DerivationLine;
      readonly verdict: 'false';
      readonly left: number;
      readonly right: number;
      /** left / right. */
      readonly ratio: number;
      /** Where: the time of the ideal motion, s, or the control's value of a relation. */
      readonly at: number;
    };

export interface DerivationCheck {
  readonly lines: readonly LineVerdict[];
  /** Index of the first line that is false; null where all are true. */
  readonly firstFalse: number | null;
  /** How many settings of the quantities were tried, and how many of them the ideal model could not be run at. */
  readonly settings: number;
  readonly failedSettings: number;
}

/** Settings besides the author's own, points on each motion, and how far settings are drawn from the author's values. */
const SETTINGS = 8;
const POINTS = 12;
const REACH = 0.25;

/** How far a quantity whose value is 0 is drawn, in its standard uncertainties. */
const REACH_FROM_ZERO = 3;

/** Exact lines must agree to this share of their largest term: far above the integrator's error, far below any slip. */
const AGREEMENT = 1e-6;

/** The ideal motion is found more closely than usual: sides that nearly cancel magnify its error. */
const TOLERANCE = 1e-12;

/**
 * Checks each line of the derivation along the ideal motion: with all effects off, at the author's values and at
 * settings drawn at random around them, so that a line that is true by accident of the values is found.
 *
 * @param seed of the random settings
 * @returns the verdict on each line; problems where the ideal model cannot be run at all
 */
export function checkDerivation(pipeline: Pipeline, seed = 1): Outcome<DerivationCheck> {
  const { lab } = pipeline;
  const random = randomSource(seed);
  const sides = lab.derivation.map((line) => compileSides(line, lab));
  const verdicts: LineVerdict[] = lab.derivation.map((line) => ({ line, verdict: 'true' }));
  let failedSettings = 0;
  for (let setting = 0; setting <= SETTINGS; setting++) {
    const base = Float64Array.from(lab.quantities.base, ({ estimate }) => {
      const { value, standardUncertainty } = estimate;
      if (setting === 0) return value;
      // A quantity that is 0 must move too, or a term that it belongs to is never missed.
      const reach = value === 0 ? REACH_FROM_ZERO * standardUncertainty : REACH * value;
      return value + reach * (2 * random.uniform() - 1);
    });
    const values = pipeline.values(base, settingsOff(lab, 0));
    const points = idealPoints(pipeline, values);
    if (!points.ok) {
      if (setting === 0) return points;
      failedSettings += 1;
      continue;
    }
    for (const [index, evaluate] of sides.entries()) {
      const line = lab.derivation[index];
      if (line === undefined || verdicts[index]?.verdict === 'false') continue;
      const wrong = firstDisagreement(line, evaluate, points.value, values);
      if (wrong !== null) verdicts[index] = wrong;
    }
  }
  const firstFalse = verdicts.findIndex((verdict) => verdict.verdict === 'false');
  return succeed({
    lines: verdicts,
    firstFalse: firstFalse < 0 ? null : firstFalse,
    settings: SETTINGS + 1,
    failedSettings,
  });
}

/** A point of the ideal motion: the time or control value, then the states or the relation's output. */
type Point = readonly number[];

type Sides = (
  point: Point,
  values: QuantityValues,
) => { readonly left: number; readonly right: number; readonly size: number };

function compileSides(line: DerivationLine, lab: Lab): Sides {
  const rates: ReadonlyMap<string, Tree> = lab.model.kind === 'motion' ? lab.model.model.rates : new Map();
  const left = resolvePrimes(line.equation.left.tree, rates);
  const right = resolvePrimes(line.equation.right.tree, rates);
  const terms = [...termsOf(left), ...termsOf(right)];
  const names = pointNames(lab);
  const compiled = compileFunction([left, right, ...terms], [...names, ...quantityNames(lab.quantities)], {
    tables: lab.tables,
  });
  const inputs = new Float64Array(names.length + lab.quantities.all.length);
  const outputs = new Float64Array(2 + terms.length);
  return (point, values) => {
    inputs.set(point);
    inputs.set(values, names.length);
    compiled(inputs, outputs);
    let size = 0;
    for (let term = 2; term < outputs.length; term++) size = Math.max(size, Math.abs(outputs[term]));
    return { left: outputs[0], right: outputs[1], size };
  };
}

/** The terms of a sum: their size, not that of a sum that nearly cancels, says how exactly the sides can agree. */
function termsOf(tree: Tree): readonly Tree[] {
  return nodesOf(tree, partsOfSum).filter((node) => partsOfSum(node).length === 0);
}

function partsOfSum(tree: Tree): readonly Tree[] {
  if (tree.kind === 'negate') return [tree.operand];
  const isSum = tree.kind === 'arithmetic' && (tree.operator === '+' || tree.operator === '-');
  return isSum ? [tree.left, tree.right] : [];
}

function pointNames(lab: Lab): readonly string[] {
  const { model } = lab;
  if (model.kind === 'motion') return ['t', ...model.model.stateNames];
  return model.kind === 'relation' ? [model.relation.control, model.relation.output] : [];
}

function idealPoints(pipeline: Pipeline, values: QuantityValues): Outcome<readonly Point[]> {
  const { model } = pipeline.lab;
  if (model.kind === 'none') return succeed([[]]);
  if (model.kind === 'relation') {
    const { relation } = model;
    const evaluate = compileFunction(
      [relation.expression.tree],
      [relation.control, ...quantityNames(pipeline.lab.quantities)],
      {
        tables: pipeline.lab.tables,
      },
    );
    const out = new Float64Array(1);
    return succeed(
      Array.from(relation.over, (control): Point => {
        evaluate(Float64Array.of(control, ...values), out);
        return [control, out[0]];
      }),
    );
  }
  const simulated = pipeline.simulate(values, { evolution: { relativeTolerance: TOLERANCE } });
  if (!simulated.ok) return simulated;
  const { motion } = simulated.value;
  return succeed(motion === null ? [] : pointsOf(motion, model.model.stateNames.length));
}

/** Points inside the part of the motion in which the model holds; its ends are left out, where sides may be 0. */
function pointsOf(motion: Motion, states: number): readonly Point[] {
  const failures = motion.holds.flatMap((hold) => (hold.failsAt === null ? [] : [hold.failsAt.t]));
  const end = Math.min(motion.endS, ...failures);
  const state = new Float64Array(states);
  return Array.from({ length: POINTS }, (_, index): Point => {
    const t = motion.startS + ((end - motion.startS) * (index + 1)) / (POINTS + 1);
    motion.stateAt(t, state);
    return [t, ...state];
  });
}

function firstDisagreement(
  line: DerivationLine,
  evaluate: Sides,
  points: readonly Point[],
  values: QuantityValues,
): LineVerdict | null {
  for (const point of points) {
    const { left, right, size } = evaluate(point, values);
    const allowed =
      line.within > 0 ? line.within * Math.max(Math.abs(left), Math.abs(right)) : AGREEMENT * size;
    if (Math.abs(left - right) <= allowed) continue;
    return { line, verdict: 'false', left, right, ratio: left / right, at: point[0] ?? 0 };
  }
  return null;
}
