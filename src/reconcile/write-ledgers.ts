import { studentTail } from '../inference/index.ts';
import type { BaseQuantity } from '../lab/index.ts';
import { allEffects, type Output } from '../run/index.ts';
import type { Analysis } from './analysis.ts';
import { closeRemainder } from './closing.ts';
import type { Systematic } from './follow-measurement.ts';
import type { GapLedger, LedgerRemainder } from './gap-ledger.ts';
import type { MeasuredOutput } from './measured.ts';
import { sharesOf } from './shares.ts';
import { spreadOfColumn } from './spread.ts';
import { theoryValues } from './theories.ts';
import { judge } from './verdict.ts';

/** Writes the ledger of every output. */
export function writeLedgers(analysis: Analysis, systematic: Systematic): readonly GapLedger[] {
  const theories = drawTheories(analysis);
  return analysis.outputs.map((output, index) => ledgerOf(output, index, analysis, systematic, theories));
}

/** The theory's formulas at every draw: draws × outputs. */
function drawTheories(analysis: Analysis): Float64Array {
  const { pipeline, groups, outputs, model, drawn, deviations } = analysis;
  const inputs = model.nominal.length;
  const table = new Float64Array(drawn.rows * outputs.length);
  const point = new Float64Array(inputs);
  for (let row = 0; row < drawn.rows; row++) {
    for (let input = 0; input < inputs; input++)
      point[input] = model.nominal[input] + deviations[row * inputs + input];
    theoryValues(
      pipeline,
      groups,
      outputs,
      model.baseAt(point),
      table.subarray(row * outputs.length, (row + 1) * outputs.length),
    );
  }
  return table;
}

function ledgerOf(
  output: Output,
  index: number,
  analysis: Analysis,
  systematic: Systematic,
  theories: Float64Array,
): GapLedger {
  const { pipeline, groups, outputs, model, subsets, drawn, measured } = analysis;
  const { effects } = pipeline.lab;
  const count = outputs.length;
  const shares = sharesOf(subsets, model.effects, count);
  const full = subsets[allEffects(pipeline.lab) * count + index];
  const theory = new Float64Array(count);
  theoryValues(pipeline, groups, outputs, pipeline.nominal, theory);
  const found = measured[index] ?? null;
  const uncertainty = found === null ? 0 : Math.hypot(found.scatter, systematic.ofMeasured[index]);
  return {
    result: output.result,
    group: output.group === null ? null : (groups[output.group]?.label ?? null),
    theory:
      output.result.theory === null
        ? null
        : { value: theory[index], standardUncertainty: spreadOfColumn(theories, count, index) },
    reduction: shiftsOf(output, analysis),
    ideal: { value: subsets[index], standardUncertainty: spreadOfColumn(drawn.ideal, count, index) },
    effects: effects.map((effect, position) => ({
      effect: effect.name,
      share: shares[index * effects.length + position],
      standardUncertainty: spreadOfColumn(
        drawn.shares,
        count * effects.length,
        index * effects.length + position,
      ),
    })),
    full: { value: full, standardUncertainty: spreadOfColumn(drawn.full, count, index) },
    measured:
      found === null
        ? null
        : {
            value: found.value,
            standardUncertainty: uncertainty,
            n: found.n,
            fromScatter: found.scatter,
            fromQuantities: systematic.ofMeasured[index],
          },
    remainder: found === null ? null : remainderOf(found, full, index, analysis, systematic),
  };
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
  const fromQuantities = systematic.ofRemainder[index];
  const standardUncertainty = Math.hypot(found.scatter, fromQuantities);
  // Welch–Satterthwaite, JCGM 100 G.4.1: what the quantities bring counts as known for certain.
  const degreesOfFreedom =
    found.scatter === 0
      ? Number.POSITIVE_INFINITY
      : found.degreesOfFreedom * (standardUncertainty / found.scatter) ** 4;
  const z = value / standardUncertainty;
  // Without any uncertainty there is nothing to hold the remainder against.
  const probability = standardUncertainty > 0 ? 2 * studentTail(Math.abs(z), degreesOfFreedom) : Number.NaN;
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

function shiftsOf(output: Output, analysis: Analysis): GapLedger['reduction'] {
  if (output.group === null) return [];
  return (analysis.stepShifts[output.group] ?? []).flatMap(({ step, shifts }) => {
    const shift = shifts.get(output.result.name);
    return shift === undefined ? [] : [{ step, shift }];
  });
}
