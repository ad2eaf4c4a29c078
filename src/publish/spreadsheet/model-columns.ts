import { formatUnit, type Unit } from '../../quantity/index.ts';
import type { StepwiseModel, StepwiseRow } from '../stepwise/index.ts';
import type { SheetWords } from './sheet-words.ts';

/** One column of the model's sheet. */
export interface ModelColumn {
  readonly heading: string;
  /** What the program itself finds in a row, for those who only look. */
  readonly of: (row: StepwiseRow) => number;
}

/** Where everything stands in the model's sheet. */
export interface ModelLayout {
  readonly columns: readonly ModelColumn[];
  readonly t: number;
  readonly states: number;
  readonly free: number;
  readonly pulls: number;
  readonly shares: number;
  readonly terms: number;
  readonly rates: number;
  readonly margins: number;
  readonly moving: number;
}

export function layOutModel(model: StepwiseModel, words: SheetWords): ModelLayout {
  const { states, frictions, terms, stops } = model;
  const column = (heading: string, of: ModelColumn['of']): ModelColumn => ({ heading, of });
  const at = (list: readonly number[], index: number): number => list[index] ?? Number.NaN;
  const columns = [
    column(`t / s (${words.time})`, (row) => row.t),
    ...states.map(({ name, unit }, k) => column(headed(name, unit), (row) => at(row.states, k))),
    ...frictions.map(({ velocity }) => column(words.freeRateOf(velocity), () => Number.NaN)),
    ...frictions.map(({ velocity }) => column(words.frictionOn(velocity), () => Number.NaN)),
    ...frictions.map((_friction, k) => column(words.share, (row) => at(row.shares, k))),
    ...terms.map(({ name }, k) => column(name, (row) => at(row.terms, k))),
    ...states.map(({ name }, k) => column(words.rateOf(name), (row) => at(row.rates, k))),
    ...stops.map(({ name }, k) => column(words.untilStop(name), (row) => at(row.margins, k))),
    column(words.moving, () => 1),
  ];
  const starts: number[] = [];
  let next = 0;
  for (const count of [
    1,
    states.length,
    frictions.length,
    frictions.length,
    frictions.length,
    terms.length,
    states.length,
    stops.length,
    1,
  ]) {
    starts.push(next);
    next += count;
  }
  const [t = 0, s = 0, free = 0, pulls = 0, shares = 0, u = 0, rates = 0, margins = 0, moving = 0] = starts;
  return { columns, t, states: s, free, pulls, shares, terms: u, rates, margins, moving };
}

/** x / m, or x alone where it is a plain number. */
export function headed(name: string, unit: Unit): string {
  const printed = formatUnit(unit);
  return printed === '' ? name : `${name} / ${/[·/ ]/.test(printed) ? `(${printed})` : printed}`;
}
