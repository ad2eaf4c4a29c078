import type { SheetChart } from 'hucre';
import type { Tree } from '../../expression/index.ts';
import { formatUnit, fromSI } from '../../quantity/index.ts';
import type { StepwiseModel, StepwiseRun } from '../stepwise/index.ts';
import { emitFormula, emitNumber } from './emit-formula.ts';
import { address, createGrid, digitsFor, type Grid, PLAIN, put, putFormula, quoteSheet } from './grid.ts';
import { headed } from './model-columns.ts';
import type { ModelSheet } from './model-sheet.ts';
import type { SheetWords } from './sheet-words.ts';

const COLUMNS = { symbol: 0, meaning: 1, value: 2, unit: 3, uncertainty: 4, inSI: 5 } as const;

/** A cell that has a name. */
export interface NamedCell {
  readonly name: string;
  readonly range: string;
}

/** The sheet on which a reader changes values and sees what becomes of the motion. */
export function fillInputSheet(
  sheetName: string,
  title: string,
  model: StepwiseModel,
  run: StepwiseRun,
  names: ReadonlyMap<string, string>,
  motion: ModelSheet,
  words: SheetWords,
): { readonly grid: Grid; readonly names: readonly NamedCell[]; readonly charts: SheetChart[] } {
  const grid = createGrid(sheetName);
  const named: NamedCell[] = [];
  const nameCell = (name: string, row: number): void => {
    named.push({ name, range: `${quoteSheet(sheetName)}!${address(row, COLUMNS.inSI, true)}` });
  };
  put(grid, 0, 0, title, 'title');
  put(grid, 1, 0, words.howToUse, 'quiet');
  const heads = [words.symbol, words.meaning, words.value, words.unit, words.uncertainty, words.inSI];
  for (const [column, head] of heads.entries()) put(grid, 3, column, head, 'head');
  let row = 4;
  for (const { name, is, unit, value, standardUncertainty } of model.inputs) {
    put(grid, row, COLUMNS.symbol, name);
    put(grid, row, COLUMNS.meaning, is);
    const shown = shortest(fromSI(value, unit, 'point'));
    put(grid, row, COLUMNS.value, shown, 'input', writtenDigits(shown));
    put(grid, row, COLUMNS.unit, formatUnit(unit), 'unit');
    if (standardUncertainty > 0)
      put(
        grid,
        row,
        COLUMNS.uncertainty,
        Number(fromSI(standardUncertainty, unit, 'interval').toPrecision(2)),
        'quiet',
      );
    const shifted = unit.offset === 0 ? '' : `+${emitNumber(unit.offset)}`;
    putFormula(
      grid,
      row,
      COLUMNS.inSI,
      `${address(row, COLUMNS.value)}${factorOf(unit.factor)}${shifted}`,
      value,
      'plain',
      writtenDigits(shortest(value)),
    );
    nameCell(names.get(name) ?? name, row);
    row++;
  }
  put(grid, row, COLUMNS.symbol, 'dt');
  put(grid, row, COLUMNS.meaning, words.step);
  put(grid, row, COLUMNS.value, model.stepS, 'input');
  put(grid, row, COLUMNS.unit, 's', 'unit');
  putFormula(grid, row, COLUMNS.inSI, address(row, COLUMNS.value), model.stepS);
  nameCell('dt', row);
  row += 2;
  const terms: { name: string; is: string; tree: Tree; result: number; unit: string; scale: string }[] =
    model.computed.map(({ name, is, tree, unit }, index) => ({
      name,
      is,
      tree,
      result: run.computed[index] ?? Number.NaN,
      unit: formatUnit(unit),
      scale: `${unit.offset === 0 ? '' : `-${emitNumber(unit.offset)}`})/${emitNumber(unit.factor)}`,
    }));
  if (model.lasts !== null)
    terms.push({
      name: 't_end',
      is: words.atTheEnd,
      tree: model.lasts,
      result: run.end?.t ?? Number.NaN,
      unit: 's',
      scale: ')/1',
    });
  if (terms.length > 0) put(grid, row++, 0, words.computed, 'quiet');
  for (const { name, is, tree, result, unit, scale } of terms) {
    const formula = emitFormula(tree, (symbol) => names.get(symbol) ?? symbol);
    put(grid, row, COLUMNS.symbol, name);
    put(grid, row, COLUMNS.meaning, is);
    const known = formula.ok ? result : null;
    const digits = digitsFor(Math.abs(result));
    putFormula(grid, row, COLUMNS.inSI, formula.ok ? formula.value : 'NA()', known, 'plain', digits);
    putFormula(grid, row, COLUMNS.value, `(${address(row, COLUMNS.inSI)}${scale}`, null);
    put(grid, row, COLUMNS.unit, unit, 'unit');
    nameCell(name === 't_end' ? name : (names.get(name) ?? name), row);
    row++;
  }
  row = writeEnd(grid, row + 1, model, run, motion, words);
  return { grid, names: named, charts: chartsOf(motion, model) };
}

/** Time and states at the end, placed within the last step by a straight line. */
function writeEnd(
  grid: Grid,
  from: number,
  model: StepwiseModel,
  run: StepwiseRun,
  { grid: { name }, layout, count }: ModelSheet,
  words: SheetWords,
): number {
  let row = from;
  put(grid, row++, 0, words.atTheEnd, 'label');
  const column = (index: number): string =>
    `${quoteSheet(name)}!${address(1, index, true)}:${address(count, index, true)}`;
  const steps = `SUM(${column(layout.moving)})`;
  const last = (index: number): string => `INDEX(${column(index)},${steps})`;
  const before = (index: number): string => `INDEX(${column(index)},${steps}-1)`;
  const margins = model.stops.map((_stop, k) => layout.margins + k);
  const crossings = margins.map((index) => {
    const [a, b] = [last(index), before(index)];
    return `IF(${a}>0,IF(${b}<0,${b}/(${b}-${a}),0),1)`;
  });
  const reached = [
    ...margins.map((index) => `${last(index)}>0`),
    ...(model.lasts === null ? [] : [`${last(layout.t)}>=t_end-1E-9*dt`]),
  ];
  const share = address(row, COLUMNS.inSI, true);
  put(grid, row, COLUMNS.meaning, 'θ', 'quiet');
  putFormula(
    grid,
    row++,
    COLUMNS.inSI,
    `IF(OR(${reached.length === 0 ? '1=0' : reached.join(',')}),MIN(1${crossings.map((one) => `,${one}`).join('')}),NA())`,
    null,
    'quiet',
    '0.0000',
  );
  const lines = [
    { symbol: 't', heading: words.time, unit: 's', index: layout.t, result: run.end?.t },
    ...model.states.map(({ name: symbol, unit }, k) => ({
      symbol,
      heading: '',
      unit: formatUnit(unit),
      index: layout.states + k,
      result: run.end?.states[k],
    })),
  ];
  for (const { symbol, heading, unit, index, result } of lines) {
    put(grid, row, COLUMNS.symbol, symbol);
    put(grid, row, COLUMNS.meaning, heading);
    put(grid, row, COLUMNS.unit, unit, 'unit');
    putFormula(
      grid,
      row++,
      COLUMNS.inSI,
      `${before(index)}+${share}*(${last(index)}-${before(index)})`,
      result ?? null,
      'result',
      digitsFor(Math.abs(result ?? 1)),
    );
  }
  return row;
}

function chartsOf({ grid: { name }, layout, count }: ModelSheet, { states }: StepwiseModel): SheetChart[] {
  const column = (index: number): string =>
    `${quoteSheet(name)}!${address(1, index, true)}:${address(count, index, true)}`;
  return states.map(
    (state, k): SheetChart => ({
      type: 'scatter',
      title: headed(state.name, state.unit),
      legend: false,
      series: [
        {
          name: state.name,
          values: column(layout.states + k),
          categories: column(layout.t),
          color: '0072B2',
          marker: { symbol: 'none' },
        },
      ],
      axes: {
        x: { title: 't / s', numberFormat: PLAIN },
        y: { title: headed(state.name, state.unit), numberFormat: PLAIN },
      },
      anchor: { from: { row: 2 + 17 * k, col: 7 }, to: { row: 18 + 17 * k, col: 15 } },
    }),
  );
}

/** Digits that a person would write: 96.4, not 96.39999999999999. */
function shortest(value: number): number {
  return Number(value.toPrecision(15));
}

/** Numbers of more digits are shown with five: they were computed, and nobody reads fifteen. */
const MOST_WRITTEN = 6;

/** How a value that somebody wrote is shown: as it was written, where a person could have written it. */
function writtenDigits(value: number): string | undefined {
  if (value !== 0 && Math.abs(value) < 1e-4) return '0.00##E+00';
  return Number(value.toPrecision(MOST_WRITTEN)) === value ? undefined : digitsFor(Math.abs(value));
}

/** Dividing by a power of ten is exact where multiplying by its inverse is not. */
function factorOf(factor: number): string {
  if (factor === 1) return '';
  const inverse = 1 / factor;
  const rounded = Math.round(inverse);
  return factor < 1 && Math.abs(inverse - rounded) <= 1e-9 * inverse
    ? `/${rounded}`
    : `*${emitNumber(factor)}`;
}
