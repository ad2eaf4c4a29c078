import { randomSource, studentTail } from '../inference/index.ts';
import { type BaseQuantity, baseQuantitiesBehind, type Pipeline, type TrialRun } from '../lab/index.ts';
import type { Outcome, Problem } from '../problem/index.ts';
import { fail, problem, succeed } from '../problem/index.ts';
import {
  allEffects,
  groupRuns,
  listOutputs,
  mainGroup,
  measureStepShifts,
  type Output,
  type RunGroup,
  type StepShift,
} from '../run/index.ts';
import { closeRemainder } from './closing.ts';
import { drawDeviations } from './draw-deviations.ts';
import type { GapLedger, LedgerMethod, LedgerRemainder, Reconciliation } from './gap-ledger.ts';
import { createLabModel, type LabEffectModel } from './lab-model.ts';
import { createMeasure, type MeasuredOutput, measureOutputs } from './measured.ts';
import { applyResponse, measureResponse, type Response } from './response.ts';
import {
  type DrawnShares,
  drawByModel,
  drawByResponses,
  measureSubsetResponses,
  predictSubsets,
  sharesOf,
  type Work,
} from './shares.ts';
import { compareColumns, spreadOfColumn } from './spread.ts';
import { theoryValues } from './theories.ts';
import { judge } from './verdict.ts';

export interface ReconcileOptions extends Work {
  /**
   * Draws of the uncertain quantities; where left out, 1000 through the second-order response, or 128 through the
   * model itself where the response does not stand.
   */
  readonly draws?: number;
  readonly seed?: number;
}

/** Draws on which the quick way is compared with the model itself. */
const CHECK_DRAWS = 12;

/** The quick way stands where it is within this share of the uncertainty it gives, at every check. */
const AGREEMENT = 0.2;

/** Draws through the second-order response, which cost next to nothing. */
const RESPONSE_DRAWS = 1000;

/** Draws of the model itself where the quick way does not stand: each costs one run a subset and a group. */
const MODEL_DRAWS = 128;

/** More effects than this have more subsets than can be run in a sensible time. */
const MOST_EFFECTS = 12;

/**
 * The gap ledger of every result: what each effect explains of the gap between ideal theory and measurement, and
 * what remains, with uncertainties from common quasi-random draws of all uncertain quantities.
 *
 * Every subset of effects is run at the author's values, so the lines add up exactly. The draws go through each
 * subset's second-order response, checked on some draws against the model itself; where they disagree, or a response
 * leaves the model's domain, the model is run at every draw.
 *
 * @returns one ledger a result and group of settings, or the problems that prevent it
 */
export function reconcile(
  pipeline: Pipeline,
  trials: readonly TrialRun[],
  options: ReconcileOptions = {},
): Outcome<Reconciliation> {
  const { lab } = pipeline;
  if (lab.effects.length > MOST_EFFECTS) {
    return fail(
      problem(
        'too-many-effects',
        { file: lab.file },
        `The lab has ${lab.effects.length} effects; a ledger runs every subset of them and takes at most ${MOST_EFFECTS}.`,
        'Join effects that belong together.',
      ),
    );
  }
  const groups = groupRuns(lab, trials);
  const outputs = listOutputs(lab, groups);
  if (outputs.length === 0) {
    return fail(
      problem(
        'no-results',
        { file: lab.file },
        'The lab names no results, so there is nothing to compare.',
        'Add "results" to the lab file.',
      ),
    );
  }
  const measured = measureOutputs(pipeline, groups, outputs);
  if (!measured.ok) return measured;
  const model = createLabModel(pipeline, groups, outputs);
  const subsets = predictSubsets(model, model.nominal, options);
  if (subsets === null) return fail(...firstProblem(model));
  const random = randomSource(options.seed ?? 1);
  const drawing = drawDeviations(lab, model.uncertain, options.draws ?? RESPONSE_DRAWS, random);
  if (!drawing.ok) return drawing;
  const deviations = drawing.value;
  const drawn = drawModel(model, deviations, options.draws ?? MODEL_DRAWS, options);
  const stepShifts = measureGroupShifts(pipeline, groups);
  if (!stepShifts.ok) return stepShifts;
  const analysis: Analysis = {
    pipeline,
    groups,
    outputs,
    model,
    subsets,
    drawn,
    deviations,
    measured: measured.value,
    stepShifts: stepShifts.value,
  };
  const systematic = followMeasurement(analysis);
  const theories = drawTheories(analysis);
  const ledgers = outputs.map((output, index) => ledgerOf(output, index, analysis, systematic, theories));
  const own = mainGroup(groups);
  const main = new Map<string, number>();
  outputs.forEach(({ result, group }, index) => {
    if (group === null || group === own) main.set(result.name, index);
  });
  return succeed({ ledgers, main, method: drawn.method }, measured.warnings);
}

interface Drawn extends DrawnShares {
  readonly method: LedgerMethod;
  /** Rows of deviations that were drawn with; fewer than asked for where the model itself was run. */
  readonly rows: number;
  /** Response of the full model, for sensitivities; null where it leaves the domain. */
  readonly fullResponse: Response | null;
}

interface Analysis {
  readonly pipeline: Pipeline;
  readonly groups: readonly RunGroup[];
  readonly outputs: readonly Output[];
  readonly model: LabEffectModel;
  readonly subsets: Float64Array;
  readonly drawn: Drawn;
  readonly deviations: Float64Array;
  readonly measured: readonly (MeasuredOutput | null)[];
  /** One list a group. */
  readonly stepShifts: readonly (readonly StepShift[])[];
}

/** What the steps of the reduction do to the ideal simulation, group by group. */
function measureGroupShifts(
  pipeline: Pipeline,
  groups: readonly RunGroup[],
): Outcome<Analysis['stepShifts']> {
  const all: (readonly StepShift[])[] = [];
  for (const group of groups) {
    const shifts = measureStepShifts(pipeline, group, pipeline.nominal, 0);
    if (!shifts.ok) return shifts;
    all.push(shifts.value);
  }
  return succeed(all);
}

function shiftsOf(output: Output, analysis: Analysis): GapLedger['reduction'] {
  if (output.group === null) return [];
  return (analysis.stepShifts[output.group] ?? []).flatMap(({ step, shifts }) => {
    const shift = shifts.get(output.result.name);
    return shift === undefined ? [] : [{ step, shift }];
  });
}

function firstProblem(model: LabEffectModel): readonly Problem[] {
  const found = model.firstProblem();
  return [found ?? problem('not-finite', {}, 'A result of the model is not a finite number.')];
}

function drawModel(model: LabEffectModel, deviations: Float64Array, modelDraws: number, work: Work): Drawn {
  const inputs = model.nominal.length;
  const draws = inputs === 0 ? 0 : deviations.length / inputs;
  const responses = measureSubsetResponses(model, work);
  const fullResponse = responses?.[responses.length - 1] ?? null;
  if (responses !== null) {
    const quick = drawByResponses(model, responses, deviations);
    const sample = deviations.subarray(0, Math.min(CHECK_DRAWS, draws) * inputs);
    const worst = worstDisagreement(model, drawByModel(model, sample, work), quick);
    if (worst <= AGREEMENT) {
      const because = 'the second-order response agrees with the model on the draws checked';
      const method: LedgerMethod = {
        kind: 'second-order response',
        draws,
        failed: 0,
        checked: Math.min(CHECK_DRAWS, draws),
        worstDisagreement: worst,
        because,
      };
      return { ...quick, method, rows: draws, fullResponse };
    }
  }
  const rows = Math.min(draws, modelDraws);
  const drawn = drawByModel(model, deviations.subarray(0, rows * inputs), work);
  const because =
    responses === null
      ? 'some settings leave the domain of the model'
      : 'the second-order response disagrees with the model';
  return {
    ...drawn,
    method: {
      kind: 'draws of the model',
      draws: rows,
      failed: drawn.failed,
      checked: 0,
      worstDisagreement: 0,
      because,
    },
    rows,
    fullResponse,
  };
}

/** Largest disagreement of the two ways, in standard uncertainties of what they give. */
function worstDisagreement(model: LabEffectModel, exact: DrawnShares, quick: DrawnShares): number {
  let worst = exact.failed > 0 ? Number.POSITIVE_INFINITY : 0;
  for (let output = 0; output < model.outputs; output++) {
    const full = compareColumns(exact.full, quick.full, model.outputs, output);
    // A share that hardly varies need not be known better than the total it is part of.
    const scale = full.spread;
    if (full.difference > 0) worst = Math.max(worst, full.difference / scale);
    for (let effect = 0; effect < model.effects; effect++) {
      const share = compareColumns(
        exact.shares,
        quick.shares,
        model.outputs * model.effects,
        output * model.effects + effect,
      );
      if (share.difference > 0)
        worst = Math.max(worst, share.difference / Math.max(share.spread, 0.2 * scale));
    }
  }
  return worst;
}

/** How the measured values follow the quantities: rows × outputs of measured minus full, and each alone. */
interface Systematic {
  /** One spread an output: what the quantities bring to the measured value. */
  readonly ofMeasured: Float64Array;
  /** One spread an output: what they bring to measured − full, the same draw in both. */
  readonly ofRemainder: Float64Array;
  /** outputs × inputs: derivative of measured − full by each uncertain quantity. */
  readonly sensitivities: Float64Array;
}

function followMeasurement(analysis: Analysis): Systematic {
  const { pipeline, groups, outputs, model, drawn, deviations, measured } = analysis;
  const count = outputs.length;
  const inputs = model.nominal.length;
  const measure = createMeasure(pipeline, groups, outputs);
  const read = quantitiesOfReduction(pipeline);
  const hasTrials = measured.some((output) => output !== null);
  const response = hasTrials
    ? measureResponse(
        (values, out) => measure(model.baseAt(values), out),
        model.nominal,
        model.uncertainties,
        count,
        (input) => !read.has(model.uncertain[input] ?? -1),
      )
    : null;
  const measuredRows = new Float64Array(drawn.rows * count);
  const remainderRows = new Float64Array(drawn.rows * count);
  const values = new Float64Array(count);
  for (let row = 0; row < drawn.rows; row++) {
    if (response === null) values.fill(0);
    else applyResponse(response, deviations.subarray(row * inputs, (row + 1) * inputs), values);
    for (let output = 0; output < count; output++) {
      measuredRows[row * count + output] = values[output];
      remainderRows[row * count + output] = values[output] - drawn.full[row * count + output];
    }
  }
  const sensitivities = new Float64Array(count * inputs);
  for (let index = 0; index < sensitivities.length; index++) {
    sensitivities[index] = (response?.linear[index] ?? 0) - (drawn.fullResponse?.linear[index] ?? Number.NaN);
  }
  const spreads = (table: Float64Array) =>
    Float64Array.from(outputs, (_, output) => spreadOfColumn(table, count, output));
  return { ofMeasured: spreads(measuredRows), ofRemainder: spreads(remainderRows), sensitivities };
}

/** Base quantities that any step or instrument of the reduction reads: only they can move a measured value. */
function quantitiesOfReduction(pipeline: Pipeline): ReadonlySet<number> {
  const { lab } = pipeline;
  const names = [
    ...lab.instruments.flatMap((instrument) => [...instrument.quantitiesRead]),
    ...lab.eachRun.quantitiesRead,
    ...lab.acrossRuns.quantitiesRead,
  ];
  return baseQuantitiesBehind(names, lab.quantities);
}

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
  const probability = 2 * studentTail(Math.abs(z), degreesOfFreedom);
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
