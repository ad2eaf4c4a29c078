import type { BaseQuantity } from '../lab/index.ts';
import type { Output } from '../run/index.ts';
import { hypotenuse, power } from '../wasm/index.ts';
import type { Analysis } from './analysis.ts';
import { closeRemainder } from './closing.ts';
import { drawFunction } from './draw-function.ts';
import type { Systematic } from './follow-measurement.ts';
import type { GapLedger, LedgerMeasured, LedgerRemainder } from './gap-ledger.ts';
import { coverageInterval, type Doubt, probabilityBeyond } from './judge-deviation.ts';
import type { MeasuredOutput } from './measured.ts';
import type { EvaluateMany } from './response.ts';
import { isWorthALine } from './shift-worth-a-line.ts';
import { spreadOfColumn } from './spread.ts';
import { applyPlan, orderErrors } from './subset-plan.ts';
import { theoryValues } from './theories.ts';
import { judge } from './verdict.ts';

/** Writes the ledger of every output. */
export function writeLedgers(analysis: Analysis, systematic: Systematic): readonly GapLedger[] {
  const { plan, outputs, pipeline, groups } = analysis;
  const theories = drawTheories(analysis);
  const shares = new Float64Array(outputs.length * plan.effects);
  applyPlan(plan, analysis.subsets, outputs.length, shares);
  const theory = new Float64Array(outputs.length);
  theoryValues(pipeline, groups, outputs, pipeline.nominal, theory);
  const lines: Lines = {
    shares,
    errors: orderErrors(plan, analysis.subsets, outputs.length),
    theory,
    theories,
  };
  return outputs.map((output, index) => ledgerOf(output, index, analysis, systematic, lines));
}

/** The theory's formulas at every draw: draws × outputs. */
function drawTheories({ pipeline, groups, outputs, model, drawn, deviations }: Analysis): Float64Array {
  const width = outputs.length;
  const count = pipeline.nominal.length;
  const evaluate: EvaluateMany = (inputs, rows, values, sound) => {
    const base = model.baseAt(inputs, rows);
    for (let row = 0; row < rows; row++) {
      const own = base.subarray(row * count, (row + 1) * count);
      theoryValues(pipeline, groups, outputs, own, values.subarray(row * width, (row + 1) * width));
    }
    sound.fill(1);
  };
  const inputs = model.nominal.length;
  const rows = deviations.subarray(0, drawn.rows * inputs);
  return drawFunction(evaluate, model.nominal, model.uncertainties, width, () => false, rows).table;
}

/** What all ledgers take their lines from. */
interface Lines {
  /** outputs × effects. */
  readonly shares: Float64Array;
  readonly errors: Float64Array;
  /** One value an output. */
  readonly theory: Float64Array;
  /** draws × outputs. */
  readonly theories: Float64Array;
}

function ledgerOf(
  output: Output,
  index: number,
  analysis: Analysis,
  systematic: Systematic,
  { shares, errors, theory, theories }: Lines,
): GapLedger {
  const { pipeline, groups, outputs, plan, subsets, drawn, measured } = analysis;
  const { effects } = pipeline.lab;
  const count = outputs.length;
  const full = subsets[subsets.length - count + index];
  const found = measured[index] ?? null;
  const { chance } = analysis;
  const ofMeasured = found === null ? null : measuredOf(found, index, analysis, systematic);
  const ofFull = {
    value: full,
    standardUncertainty: hypotenuse(spreadOfColumn(drawn.full, count, index), chance.full[index]),
  };
  return {
    result: output.result,
    group: output.group === null ? null : (groups[output.group]?.label ?? null),
    theory:
      output.result.theory === null
        ? null
        : { value: theory[index], standardUncertainty: spreadOfColumn(theories, count, index) },
    reduction: shiftsOf(output, analysis, (ofMeasured ?? ofFull).standardUncertainty),
    ideal: {
      value: subsets[index],
      standardUncertainty: hypotenuse(spreadOfColumn(drawn.ideal, count, index), chance.ideal[index]),
    },
    effects: effects.map((effect, position) => ({
      effect: effect.name,
      share: shares[index * effects.length + position],
      standardUncertainty: hypotenuse(
        spreadOfColumn(drawn.shares, count * effects.length, index * effects.length + position),
        chance.shares[index * effects.length + position],
      ),
      ...(plan.sampled !== null && { orderError: errors[index * effects.length + position] }),
    })),
    full: ofFull,
    measured: ofMeasured,
    remainder: found === null ? null : remainderOf(found, full, index, analysis, systematic),
  };
}

function measuredOf(
  found: MeasuredOutput,
  index: number,
  analysis: Analysis,
  { ofMeasured, measuredDeviations }: Systematic,
): LedgerMeasured {
  const scatter = scatterOf(found, index, analysis);
  return {
    value: found.value,
    standardUncertainty: hypotenuse(scatter, ofMeasured[index]),
    n: found.n,
    fromScatter: scatter,
    fromQuantities: ofMeasured[index],
    interval: coverageInterval(found.value, doubtOf(found, index, analysis, measuredDeviations)),
  };
}

/** Several runs show how far they differ; a single one does not, so what is stated of that is added. */
function scatterOf(found: MeasuredOutput, index: number, { chance }: Analysis): number {
  return found.n === 1 ? hypotenuse(found.scatter, chance.full[index]) : found.scatter;
}

function doubtOf(found: MeasuredOutput, index: number, analysis: Analysis, deviations: Float64Array): Doubt {
  const count = analysis.outputs.length;
  const draws: number[] = [];
  for (let at = index; at < deviations.length; at += count) draws.push(deviations[at]);
  const scatter = scatterOf(found, index, analysis);
  return { draws, scatter, degreesOfFreedom: freedomOf(found, scatter) };
}

/** Welch–Satterthwaite, JCGM 100 G.4.1: what is added to the runs' own scatter counts as known for certain. */
function freedomOf({ scatter, degreesOfFreedom }: MeasuredOutput, total: number): number {
  return scatter === 0 ? Number.POSITIVE_INFINITY : degreesOfFreedom * power(total / scatter, 4);
}

function remainderOf(
  found: MeasuredOutput,
  full: number,
  index: number,
  analysis: Analysis,
  systematic: Systematic,
): LedgerRemainder {
  const { model, pipeline } = analysis;
  const inputs = model.nominal.length;
  const value = found.value - full;
  const scatter = scatterOf(found, index, analysis);
  const standardUncertainty = hypotenuse(scatter, systematic.ofRemainder[index]);
  const degreesOfFreedom = freedomOf(found, standardUncertainty);
  const z = value / standardUncertainty;
  const doubt = doubtOf(found, index, analysis, systematic.remainderDeviations);
  // Without any uncertainty there is nothing to hold the remainder against.
  const probability = standardUncertainty > 0 ? probabilityBeyond(value, doubt) : Number.NaN;
  const quantities = model.uncertain.flatMap((at): BaseQuantity[] =>
    pipeline.lab.quantities.base.slice(at, at + 1),
  );
  return {
    value,
    standardUncertainty,
    z,
    degreesOfFreedom,
    probability,
    verdict: judge(probability),
    closing: closeRemainder(
      value,
      systematic.sensitivities.subarray(index * inputs, (index + 1) * inputs),
      quantities,
    ),
  };
}

function shiftsOf(output: Output, analysis: Analysis, standardUncertainty: number): GapLedger['reduction'] {
  if (output.group === null) return [];
  return (analysis.stepShifts[output.group] ?? []).flatMap(({ step, shifts }) => {
    const shift = shifts.get(output.result.name);
    return shift === undefined || !isWorthALine(shift, standardUncertainty) ? [] : [{ step, shift }];
  });
}
