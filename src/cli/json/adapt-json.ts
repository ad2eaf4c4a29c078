import type {
  EquipmentOutlook,
  Measure,
  MeasureMap,
  Optimum,
  Reason,
  ResultOutlook,
  ThresholdAnswer,
  Variation,
} from '../../adapt/index.ts';
import { judgedResult } from '../../adapt/index.ts';
import type { Lab, Setting } from '../../lab/index.ts';
import type { OpenLab } from '../open-lab.ts';
import { labToJson } from './lab-json.ts';
import { problemToJson } from './problem-json.ts';
import { finite, intervalIn, pointIn, settingsToJson } from './values.ts';

type Json = Readonly<Record<string, unknown>>;

/** What was asked for beside the lab. */
export interface AdaptAsked {
  readonly kits: readonly string[];
  readonly set: readonly Setting[];
  readonly seed: number;
  readonly rehearsals: number;
}

/** The document of `adapt --json`: one of `equipment`, `map`, `thresholds` and `optimum` holds the answer. */
export function adaptToJson(
  open: OpenLab,
  asked: AdaptAsked,
  answer: {
    readonly equipment?: readonly EquipmentOutlook[];
    readonly map?: MeasureMap;
    readonly thresholds?: readonly { readonly with: readonly Setting[]; readonly answer: ThresholdAnswer }[];
    readonly optimum?: Optimum;
  },
): Json {
  return {
    lab: labToJson(open),
    kits: asked.kits,
    set: settingsToJson(asked.set),
    seed: asked.seed,
    rehearsals: asked.rehearsals,
    equipment: answer.equipment?.map((one) => equipmentToJson(open.lab, one)) ?? null,
    map: answer.map === undefined ? null : mapToJson(answer.map),
    thresholds:
      answer.thresholds?.map((one) => ({ with: settingsToJson(one.with), ...thresholdToJson(one.answer) })) ??
      null,
    optimum: answer.optimum === undefined ? null : optimumToJson(answer.optimum),
  };
}

function equipmentToJson(lab: Lab, { kits, outlook, problems, judgement }: EquipmentOutlook): Json {
  const course = outlook?.course ?? null;
  return {
    kits: kits.map(({ name }) => name),
    verdict: judgement.verdict,
    reasons: judgement.reasons.map(reasonToJson),
    judged_by: outlook === null ? null : (judgedResult(outlook.results)?.result.name ?? null),
    results: outlook?.results.map((result) => resultToJson(lab, result)) ?? [],
    readings: course?.readings ?? null,
    ended: course?.ended ?? null,
    model_fails:
      course === null || course.fails === null
        ? null
        : { condition: course.fails.name, t: course.fails.t, state: Object.fromEntries(course.fails.state) },
    hazards: outlook?.hazards.map(({ kind, size }) => ({ kind, si: finite(size) })) ?? [],
    rehearsals: outlook?.scatter?.rehearsals ?? 0,
    failed: outlook?.scatter?.failed ?? 0,
    problems: problems.map(problemToJson),
  };
}

function reasonToJson(reason: Reason): Json {
  return reason;
}

function resultToJson(lab: Lab, own: ResultOutlook): Json {
  const { result, theory, ideal, full, shares } = own;
  const { unit } = result;
  return {
    name: result.name,
    unit: unit.text,
    theory: pointIn(unit, theory),
    ideal: pointIn(unit, ideal),
    full: pointIn(unit, full),
    gap: intervalIn(unit, full - (Number.isFinite(theory) ? theory : ideal)),
    relative_gap: finite((full - theory) / Math.abs(theory)),
    effects: Object.fromEntries(
      lab.effects.map(({ name }, index) => [name, intervalIn(unit, shares[index])]),
    ),
    mean: pointIn(unit, own.mean),
    spread: intervalIn(unit, own.spread),
    low: pointIn(unit, own.low),
    high: pointIn(unit, own.high),
  };
}

function measureToJson({ text, unit, scale }: Measure): Json {
  return { measure: text, unit: unit.text, scale };
}

function variationToJson({ kind, quantity }: Variation): Json {
  return { quantity: quantity.name, unit: quantity.unit.text, kind };
}

function mapToJson(map: MeasureMap): Json {
  return {
    varied: map.variations.map((variation, index) => ({
      ...variationToJson(variation),
      values: (map.places[index] ?? []).map((value) => pointIn(variation.quantity.unit, value)),
    })),
    measures: map.measures.map((measure, index) => ({
      ...measureToJson(measure),
      values: Array.from(map.values[index], (value) => intervalIn(measure.unit, value)),
    })),
    failed: map.failed,
    first_failure: map.firstFailure === null ? null : problemToJson(map.firstFailure),
  };
}

function thresholdToJson({
  condition,
  variation,
  stretches,
  looked,
  failed,
  firstFailure,
}: ThresholdAnswer): Json {
  const { unit } = variation.quantity;
  return {
    condition: condition.text,
    ...measureToJson(condition.measure),
    varied: variationToJson(variation),
    met: stretches.map(({ from, to, begins, ceases }) => ({
      from: pointIn(unit, from),
      to: pointIn(unit, to),
      begins,
      ceases,
      from_si: finite(from),
      to_si: finite(to),
    })),
    looked: looked.map(({ at, value }) => ({
      at: pointIn(unit, at),
      value: intervalIn(condition.measure.unit, value),
    })),
    failed,
    first_failure: firstFailure === null ? null : problemToJson(firstFailure),
  };
}

function optimumToJson({
  aim,
  conditions,
  settings,
  value,
  margins,
  atEnd,
  runnersUp,
  method,
}: Optimum): Json {
  const { firstFailure, ...numbers } = method;
  return {
    ...measureToJson(aim.measure),
    sense: aim.sense,
    value: intervalIn(aim.measure.unit, value),
    si: finite(value),
    settings: settingsToJson(settings),
    conditions: conditions.map(({ text, measure }, index) => ({
      condition: text,
      unit: measure.unit.text,
      to_spare: intervalIn(measure.unit, margins[index] ?? Number.NaN),
    })),
    at_end: atEnd,
    next_best: runnersUp.map((next) => ({
      settings: settingsToJson(next.settings),
      value: intervalIn(aim.measure.unit, next.value),
    })),
    method: {
      ...numbers,
      first_failure: firstFailure === null ? null : problemToJson(firstFailure),
    },
  };
}
