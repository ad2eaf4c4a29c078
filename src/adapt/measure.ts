import type { Lab, LabResult, Quantity } from '../lab/index.ts';
import { fail, nearestName, type Outcome, problem, succeed } from '../problem/index.ts';
import { coherentUnit, type Dimension, dimensionless, parseUnit, type Unit } from '../quantity/index.ts';
import type { Extremes } from './extremes.ts';
import type { Spot } from './gauge.ts';

/** A number that can be asked of a spot. */
export interface Measure {
  /** As it is written: 'gap(k2)', 'share(k2, rolling resistance)', 'time'. */
  readonly text: string;
  readonly kind: MeasureKind;
  /** The result it is about, if any. */
  readonly result: LabResult | null;
  /** Index of the effect it is about, or null. */
  readonly effect: number | null;
  readonly dimension: Dimension;
  /** What it is printed in. */
  readonly unit: Unit;
  /** 'relative' to theory (or to the result where there is none), else 'absolute'; SI. */
  readonly scale: 'absolute' | 'relative';
  evaluate(spot: Spot): Outcome<number>;
}

export type MeasureKind =
  | 'gap'
  | 'u'
  | 'share'
  | 'visible'
  | 'result'
  | 'theory'
  | 'quantity'
  | 'time'
  | 'readings'
  | keyof Extremes;

/** Sizes of a run, by the words for them. */
const OF_RUN: ReadonlyMap<
  string,
  { readonly key: 'time' | 'readings' | keyof Extremes; readonly unit: string }
> = new Map([
  ['time', { key: 'time', unit: 's' }],
  ['readings', { key: 'readings', unit: '1' }],
  ['speed', { key: 'speed', unit: 'm/s' }],
  ['energy', { key: 'movingEnergy', unit: 'J' }],
  ['elastic energy', { key: 'elasticEnergy', unit: 'J' }],
  ['electric energy', { key: 'electricEnergy', unit: 'J' }],
  ['voltage', { key: 'voltage', unit: 'V' }],
  ['current', { key: 'current', unit: 'A' }],
  ['temperature', { key: 'temperature', unit: 'K' }],
] as const);

const OF_RESULT = ['gap', 'u', 'share', 'visible', 'theory'] as const;

/**
 * Reads a measure: gap(R), u(R), theory(R), share(R, EFFECT), visible(R, EFFECT) (its share over u), a result R, a
 * quantity, or time, readings, speed, energy … of the run.
 *
 * @param scale 'absolute' where gap, u and share are meant in the unit of the result
 */
export function readMeasure(
  lab: Lab,
  text: string,
  step: string,
  scale: Measure['scale'] = 'relative',
): Outcome<Measure> {
  const call = /^\s*([^()]+?)\s*\(\s*([^(),]+?)\s*(?:,\s*([^()]+?)\s*)?\)\s*$/.exec(text);
  if (call !== null) return readOfResult(lab, call, text.trim(), step, scale);
  const name = text.trim();
  const result = lab.results.find((candidate) => candidate.name === name);
  if (result !== undefined) return succeed(measureOfResult(lab, 'result', result, null, name, 'absolute'));
  const quantity = lab.quantities.byName.get(name);
  if (quantity !== undefined) return succeed(measureOfQuantity(quantity));
  const run = OF_RUN.get(name);
  if (run !== undefined) return measureOfRun(name, run);
  const known = [
    ...OF_RESULT,
    ...OF_RUN.keys(),
    ...lab.results.map((candidate) => candidate.name),
    ...lab.quantities.byName.keys(),
  ];
  const near = nearestName(name, known);
  return fail(
    problem(
      'usage',
      { step },
      `"${name}" is nothing that can be asked of a run.`,
      near === undefined
        ? `Ask for gap(R), u(R), share(R, EFFECT), visible(R, EFFECT), ${[...OF_RUN.keys()].join(', ')}, a result or a quantity.`
        : `Did you mean "${near}"?`,
    ),
  );
}

function readOfResult(
  lab: Lab,
  [, word = '', name = '', about]: RegExpExecArray,
  text: string,
  step: string,
  scale: Measure['scale'],
): Outcome<Measure> {
  const kind = OF_RESULT.find((candidate) => candidate === word);
  if (kind === undefined) {
    const near = nearestName(word, OF_RESULT);
    const advice = near === undefined ? `There are ${OF_RESULT.join(', ')}.` : `Did you mean "${near}"?`;
    return fail(problem('usage', { step }, `"${word}" is not a measure of a result.`, advice));
  }
  const names = lab.results.map((result) => result.name);
  const result = lab.results.find((candidate) => candidate.name === name);
  if (result === undefined) {
    const near = nearestName(name, names);
    const advice = near === undefined ? `The results are ${names.join(', ')}.` : `Did you mean "${near}"?`;
    return fail(problem('usage', { step }, `"${name}" is not a result of this lab.`, advice));
  }
  const needsEffect = kind === 'share' || kind === 'visible';
  if (needsEffect !== (about !== undefined)) {
    const message = needsEffect
      ? `"${kind}" needs a result and an effect: ${kind}(${name}, EFFECT).`
      : `"${kind}" needs a result only: ${kind}(${name}).`;
    return fail(problem('usage', { step }, message));
  }
  if (about === undefined) return succeed(measureOfResult(lab, kind, result, null, text, scale));
  const effect = readEffect(lab, about, step);
  return effect.ok ? succeed(measureOfResult(lab, kind, result, effect.value, text, scale)) : effect;
}

/** The index of an effect, by its name. */
export function readEffect(lab: Lab, name: string, step: string): Outcome<number> {
  const index = lab.effects.findIndex((effect) => effect.name === name.trim());
  if (index >= 0) return succeed(index);
  const names = lab.effects.map((effect) => effect.name);
  const near = nearestName(name, names);
  const advice =
    near === undefined
      ? `The effects are ${names.map((own) => `"${own}"`).join(', ') || 'none yet'}.`
      : `Did you mean "${near}"?`;
  return fail(problem('usage', { step }, `"${name}" is not an effect of this lab.`, advice));
}

/** A measure of one result. */
export function measureOfResult(
  lab: Lab,
  kind: 'gap' | 'u' | 'share' | 'visible' | 'result' | 'theory',
  result: LabResult,
  effect: number | null,
  text: string,
  scale: Measure['scale'],
): Measure {
  const index = lab.results.indexOf(result);
  const isPlain = kind === 'visible' || (scale === 'relative' && kind !== 'result' && kind !== 'theory');
  const scaled = (spot: Spot, value: number): Outcome<number> => {
    if (!isPlain || kind === 'visible') return succeed(value);
    const theory = spot.theory[index];
    if (Number.isFinite(theory) && theory !== 0) return succeed(value / Math.abs(theory));
    const full = spot.full();
    return full.ok ? succeed(value / Math.abs(full.value[index])) : full;
  };
  const shareAt = (spot: Spot): Outcome<number> => {
    const shares = spot.shares();
    if (!shares.ok) return shares;
    return succeed(Math.abs(shares.value[index * lab.effects.length + (effect ?? 0)]));
  };
  const spreadAt = (spot: Spot): Outcome<number> => {
    const scatter = spot.scatter();
    if (!scatter.ok) return scatter;
    const found = scatter.value.results.find(({ output }) => output.result === result);
    return succeed(found?.spread ?? Number.NaN);
  };
  const raw: Readonly<Record<typeof kind, (spot: Spot) => Outcome<number>>> = {
    result: (spot) => at(spot.full(), index),
    theory: (spot) => succeed(spot.theory[index]),
    gap: (spot) => {
      const full = spot.full();
      if (!full.ok) return full;
      const theory = spot.theory[index];
      if (Number.isFinite(theory)) return succeed(Math.abs(full.value[index] - theory));
      const ideal = spot.ideal();
      return ideal.ok ? succeed(Math.abs(full.value[index] - ideal.value[index])) : ideal;
    },
    u: spreadAt,
    share: shareAt,
    visible: (spot) => {
      const share = shareAt(spot);
      const spread = spreadAt(spot);
      if (!share.ok) return share;
      return spread.ok ? succeed(share.value / spread.value) : spread;
    },
  };
  return {
    text,
    kind,
    result,
    effect,
    dimension: isPlain ? dimensionless : result.unit.dimension,
    unit: !isPlain ? result.unit : kind === 'visible' ? coherentUnit(dimensionless) : PERCENT,
    scale: isPlain ? 'relative' : 'absolute',
    evaluate(spot) {
      const value = raw[kind](spot);
      return value.ok ? scaled(spot, value.value) : value;
    },
  };
}

const PERCENT: Unit = { text: '%', factor: 0.01, offset: 0, dimension: dimensionless, angle: 0 };

function at(values: Outcome<Float64Array>, index: number): Outcome<number> {
  return values.ok ? succeed(values.value[index]) : values;
}

function measureOfQuantity(quantity: Quantity): Measure {
  return {
    text: quantity.name,
    kind: 'quantity',
    result: null,
    effect: null,
    dimension: quantity.dimension,
    unit: quantity.unit ?? coherentUnit(quantity.dimension),
    scale: 'absolute',
    evaluate: (spot) => succeed(spot.values[quantity.index]),
  };
}

function measureOfRun(
  text: string,
  { key, unit: written }: { readonly key: 'time' | 'readings' | keyof Extremes; readonly unit: string },
): Outcome<Measure> {
  const unit = parseUnit(written);
  if (!unit.ok) return unit;
  return succeed({
    text,
    kind: key,
    result: null,
    effect: null,
    dimension: unit.value.dimension,
    unit: unit.value,
    scale: 'absolute',
    evaluate(spot) {
      const course = spot.course();
      if (!course.ok) return course;
      if (key === 'time') return succeed(course.value.time);
      if (key === 'readings') return succeed(course.value.readings ?? Number.NaN);
      return succeed(course.value.extremes[key]);
    },
  });
}
