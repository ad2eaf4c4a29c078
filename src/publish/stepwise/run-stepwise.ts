import { compileFunction, type Tree } from '../../expression/index.ts';
import type { StepwiseModel } from './stepwise.ts';

/** One moment of the motion; terms, rates, shares and margins as they are at its time. SI. */
export interface StepwiseRow {
  readonly t: number;
  readonly states: readonly number[];
  readonly terms: readonly number[];
  readonly rates: readonly number[];
  readonly shares: readonly number[];
  readonly margins: readonly number[];
}

export interface StepwiseRun {
  readonly computed: readonly number[];
  readonly rows: readonly StepwiseRow[];
  /** Time and states at the end, placed by a straight line within the last step; null where it was not reached. */
  readonly end: { readonly t: number; readonly states: readonly number[] } | null;
}

/**
 * Steps the model as the written formulas do: for the results that stand beside them, and as their check.
 *
 * @param mostSteps steps after which the run is given up
 */
export function runStepwise(model: StepwiseModel, mostSteps: number): StepwiseRun {
  const { inputs, states, stepS } = model;
  const names = [
    't',
    ...inputs.map(({ name }) => name),
    ...model.computed.map(({ name }) => name),
    ...states.map(({ name }) => name),
    ...model.frictions.map(({ share }) => share),
    ...model.terms.map(({ name }) => name),
  ];
  const place = new Map(names.map((name, index) => [name, index]));
  const vector = new Float64Array(names.length);
  const compile = (tree: Tree): (() => number) => {
    const compiled = compileFunction([tree], names, { tables: model.tables });
    const out = new Float64Array(1);
    return () => {
      compiled(vector, out);
      return out[0];
    };
  };
  const set = (name: string, value: number): number => {
    vector[place.get(name) ?? 0] = value;
    return value;
  };
  for (const { name, value } of inputs) set(name, value);
  const computed = model.computed.map(({ name, tree }) => set(name, compile(tree)()));
  const rateOf = states.map(({ rate }) => compile(rate));
  const termOf = model.terms.map(({ tree }) => compile(tree));
  const marginOf = model.stops.map(({ margin }) => compile(margin));
  const jumps = model.jumps.map(({ margin, sets }) => ({
    margin: compile(margin),
    sets: sets.map(({ state, tree }) => ({ state, value: compile(tree) })),
  }));
  const frictions = model.frictions.map(({ free, full, ...rest }) => ({
    ...rest,
    free: compile(free),
    full: compile(full),
  }));
  const endS = model.lasts === null ? Number.POSITIVE_INFINITY : compile(model.lasts)();
  for (const { name, start } of states) set(name, compile(start)());

  /** Everything at the present time, for a step of length h. */
  const look = (t: number, h: number): StepwiseRow => {
    set('t', t);
    const shares = frictions.map(({ share, velocity, free, full }) => {
      const strength = full() - free();
      const v = vector[place.get(velocity) ?? 0];
      const wanted = strength === 0 ? 1 : (-v / h - free()) / strength;
      return set(share, Math.max(-1, Math.min(1, wanted)));
    });
    const terms = model.terms.map(({ name }, index) => set(name, termOf[index]?.() ?? Number.NaN));
    return {
      t,
      shares,
      terms,
      states: states.map(({ name }) => vector[place.get(name) ?? 0]),
      rates: rateOf.map((rate) => rate()),
      margins: marginOf.map((margin) => margin()),
    };
  };

  /** Jumps whose margin has grown beyond 0 since the row before. */
  const jump = (before: readonly boolean[]): void => {
    const due = jumps.filter(({ margin }, k) => before[k] === false && margin() > 0);
    for (const { sets } of due) {
      const values = sets.map(({ value }) => value());
      for (const [k, { state }] of sets.entries()) set(state, values[k] ?? Number.NaN);
    }
  };

  const rows: StepwiseRow[] = [look(0, Math.min(stepS, endS))];
  for (let step = 1; step <= mostSteps; step++) {
    const before = rows[rows.length - 1];
    if (before === undefined) break;
    const planned = step * stepS;
    const to = planned + 1e-9 * stepS >= endS ? endS : planned;
    const h = to - before.t;
    const wereTrue = jumps.map(({ margin }) => margin() > 0);
    for (const [index, { name, isPlace }] of states.entries()) {
      if (isPlace) continue;
      const held = frictions.some(
        ({ velocity }, k) => velocity === name && Math.abs(before.shares[k] ?? 1) < 1,
      );
      set(name, held ? 0 : (before.states[index] ?? Number.NaN) + h * (before.rates[index] ?? Number.NaN));
    }
    set('t', to);
    for (const [index, { name, isPlace }] of states.entries())
      if (isPlace) set(name, (before.states[index] ?? Number.NaN) + h * (rateOf[index]?.() ?? Number.NaN));
    const ahead = Math.min(stepS, endS - to > 0 ? endS - to : stepS);
    const arrived = look(to, ahead);
    const theta = firstCrossing(before.margins, arrived.margins);
    if (theta === null && jumps.length > 0) jump(wereTrue);
    const after = theta === null && jumps.length > 0 ? look(to, ahead) : arrived;
    rows.push(after);
    if (theta !== null || to === endS) {
      const share = theta ?? 1;
      const between = (a: number, b: number): number => a + share * (b - a);
      const end = {
        t: before.t + share * h,
        states: after.states.map((value, index) => between(before.states[index] ?? Number.NaN, value)),
      };
      return { computed, rows, end };
    }
  }
  return { computed, rows, end: null };
}

/** The share of a step at which the first stop became true; null where none did. */
function firstCrossing(before: readonly number[], after: readonly number[]): number | null {
  let first: number | null = null;
  for (const [index, a] of after.entries()) {
    const b = before[index] ?? Number.NaN;
    if (!(a > 0)) continue;
    const theta = b < 0 ? b / (b - a) : 0;
    if (first === null || theta < first) first = theta;
  }
  return first;
}
