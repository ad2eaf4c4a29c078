import type { Tree } from '../../expression/index.ts';
import { fail, type Outcome, problem, succeed } from '../../problem/index.ts';
import type { StepwiseModel, StepwiseRun } from '../stepwise/index.ts';
import { emitFormula } from './emit-formula.ts';
import { address, createGrid, digitsFor, type Grid, put, putFormula } from './grid.ts';
import { layOutModel, type ModelLayout } from './model-columns.ts';
import type { SheetWords } from './sheet-words.ts';

export interface ModelSheet {
  readonly grid: Grid;
  readonly layout: ModelLayout;
  /** Steps written, the start among them. */
  readonly count: number;
}

/** Rows are written for motions this much longer than today's, so that a change of a value has room. */
const ROOM = 1.6;
const FEWEST_ROWS = 40;
export const MOST_ROWS = 3000;

/**
 * The model step by step, one row a step: all cells are formulas of the inputs and of the row above.
 *
 * Rows behind the end of the motion hold #N/A, which drawings leave out.
 *
 * @param names what the workbook calls each input and computed quantity
 * @returns fails where a state jumps, and for expressions that no cell can hold
 */
export function fillModelSheet(
  title: string,
  model: StepwiseModel,
  run: StepwiseRun,
  names: ReadonlyMap<string, string>,
  words: SheetWords,
): Outcome<ModelSheet> {
  if (model.jumps.length > 0) {
    const message =
      'A row of cells holds one value of each state, and here states jump: they have two at one time. The program in Python follows them.';
    return fail(problem('jumps-not-for-sheets', { step: 'spreadsheet' }, message));
  }
  const grid = createGrid(title);
  const layout = layOutModel(model, words);
  const count = Math.min(MOST_ROWS, Math.max(FEWEST_ROWS, Math.ceil(run.rows.length * ROOM)));
  for (const [column, { heading }] of layout.columns.entries()) put(grid, 0, column, heading, 'head');
  const digits = layout.columns.map(({ of }, column) =>
    column === layout.moving ? '0' : digitsFor(Math.max(...run.rows.map((row) => Math.abs(of(row)) || 0))),
  );
  for (let step = 0; step < count; step++) {
    const written = writeRow(grid, layout, model, names, step, run, digits);
    if (!written.ok) return written;
  }
  return succeed({ grid, layout, count });
}

function writeRow(
  grid: Grid,
  layout: ModelLayout,
  model: StepwiseModel,
  names: ReadonlyMap<string, string>,
  step: number,
  run: StepwiseRun,
  digits: readonly string[],
): Outcome<null> {
  const row = step + 1;
  const known = run.rows[step];
  const here = (column: number): string => address(row, column);
  const above = (column: number): string => address(row - 1, column);
  const { states, frictions, terms, stops, lasts } = model;
  /** Cells of this row; places of the row above where `placesAbove`. */
  const refer =
    (placesAbove = false) =>
    (name: string): string => {
      if (name === 't') return here(layout.t);
      const state = states.findIndex((one) => one.name === name);
      if (state >= 0)
        return placesAbove && states[state]?.isPlace === true
          ? above(layout.states + state)
          : here(layout.states + state);
      const share = frictions.findIndex((one) => one.share === name);
      if (share >= 0) return here(layout.shares + share);
      const term = terms.findIndex((one) => one.name === name);
      return term >= 0 ? here(layout.terms + term) : (names.get(name) ?? name);
    };
  const problems: Outcome<string>[] = [];
  const emit = (tree: Tree, placesAbove = false): string => {
    const formula = emitFormula(tree, refer(placesAbove));
    if (formula.ok) return formula.value;
    problems.push(formula);
    return 'NA()';
  };
  const set = (column: number, formula: string): void => {
    const whole =
      step === 0 || column === layout.moving ? formula : `IF(${here(layout.moving)}=1,${formula},NA())`;
    const result = known === undefined ? null : (layout.columns[column]?.of(known) ?? null);
    putFormula(
      grid,
      row,
      column,
      whole,
      column === layout.moving && known === undefined ? 0 : result,
      'plain',
      digits[column],
    );
  };

  const h = lasts === null ? 'dt' : `(${here(layout.t)}-${above(layout.t)})`;
  set(
    layout.t,
    step === 0 ? '0' : lasts === null ? `${above(layout.t)}+dt` : `MIN(${above(layout.t)}+dt,t_end)`,
  );
  for (const [k, state] of states.entries()) {
    const column = layout.states + k;
    if (step === 0) set(column, emit(state.start));
    else if (state.isPlace) set(column, `${above(column)}+${h}*${emit(state.rate, true)}`);
    else {
      const moved = `${above(column)}+${h}*${above(layout.rates + k)}`;
      const friction = frictions.findIndex(({ velocity }) => velocity === state.name);
      set(column, friction < 0 ? moved : `IF(ABS(${above(layout.shares + friction)})<1,0,${moved})`);
    }
  }
  const ahead = lasts === null ? 'dt' : `MAX(MIN(dt,t_end-${here(layout.t)}),1E-12)`;
  for (const [k, { free, full, velocity }] of frictions.entries()) {
    const [without, added] = [here(layout.free + k), here(layout.pulls + k)];
    const v = refer()(velocity);
    set(layout.free + k, emit(free));
    set(layout.pulls + k, `${emit(full)}-${without}`);
    set(layout.shares + k, `IF(${added}=0,1,MAX(-1,MIN(1,(-${v}/${ahead}-${without})/${added})))`);
  }
  for (const [k, { tree }] of terms.entries()) set(layout.terms + k, emit(tree));
  for (const [k, { rate }] of states.entries()) set(layout.rates + k, emit(rate));
  for (const [k, { margin }] of stops.entries()) set(layout.margins + k, emit(margin));
  set(
    layout.moving,
    step === 0 ? '1' : `IF(${above(layout.moving)}=1,IF(${goesOn(layout, model, above)},1,0),0)`,
  );
  const [first] = problems;
  return first === undefined || first.ok ? succeed(null) : first;
}

/** Whether the motion went on behind the row above. */
function goesOn(layout: ModelLayout, model: StepwiseModel, above: (column: number) => string): string {
  const last = layout.margins + model.stops.length - 1;
  const parts = [
    ...(model.stops.length === 0 ? [] : [`MAX(${above(layout.margins)}:${above(last)})<=0`]),
    ...(model.lasts === null ? [] : [`${above(layout.t)}<t_end-1E-9*dt`]),
  ];
  return parts.length === 0 ? '1=1' : `AND(${parts.join(',')})`;
}
