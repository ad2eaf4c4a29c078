import { formatNumber } from '../quantity/index.ts';
import type { ChartFigure, Figure, LevelsMark, Mark, NumberAxis, Numbers, RuleMark } from './figure.ts';
import { axisTitle } from './layout/axis-title.ts';
import { plainText } from './rich-text.ts';
import { phrasesOf, type Wording } from './wording.ts';

/** One cell: text for people, and the number behind it. */
export interface TableCell {
  readonly text: string;
  readonly value: number | null;
}

/** What a part of a figure shows, as a table. */
export interface FigureTable {
  readonly caption: string;
  readonly headings: readonly string[];
  readonly rows: readonly (readonly TableCell[])[];
}

/** A curve is smooth: so many of its values, evenly picked, tell it. */
const CURVE_ROWS = 21;

/** Digits of the largest number of a column; the others have the same decimals. */
const DIGITS = 5;

/**
 * The data of a figure as tables, for readers who cannot see it and for those who want the numbers: one a series,
 * bars, rows, and one for all lines at single values. Bands are told by the tables of what they surround.
 */
export function dataTables(figure: Figure): readonly FigureTable[] {
  if (figure.kind === 'schematic') return schematicTables(figure);
  return figure.panels.flatMap(({ y, marks }) => {
    const rules = marks.filter((mark): mark is RuleMark => mark.kind === 'rule' && mark.name.length > 0);
    const tables = marks.flatMap((mark) => tableOf(mark, figure, y.kind === 'rows' ? null : y));
    if (rules.length > 0) tables.push(tableOfRules(rules, figure, y.kind === 'rows' ? null : y));
    if (y.kind !== 'rows') return tables;
    const levels = marks.find((mark): mark is LevelsMark => mark.kind === 'levels');
    return levels === undefined
      ? tables
      : [
          ...tables,
          tableOfRows(
            figure,
            levels,
            y.rows.map(({ label }) => plainText(label)),
          ),
        ];
  });
}

function tableOf(mark: Mark, figure: ChartFigure, y: NumberAxis | null): FigureTable[] {
  if (y === null) return [];
  const phrases = phrasesOf(figure.language);
  const headX = plainText(axisTitle(figure.x));
  const headY = plainText(axisTitle(y));
  const named = plainText(mark.name);
  const caption = named === '' ? plainText(y.quantity) : named;
  switch (mark.kind) {
    case 'points': {
      const columns = [column(headX, mark.x, figure)];
      if (mark.ux !== null) columns.push(column(phrases.standardUncertaintyOf(headX), mark.ux, figure, 2));
      columns.push(column(headY, mark.y, figure));
      if (mark.uy !== null) columns.push(column(phrases.standardUncertaintyOf(headY), mark.uy, figure, 2));
      return [fromColumns(caption, columns)];
    }
    case 'curve': {
      const picked = pick(mark.x.length);
      const take = (values: Numbers): Numbers => picked.map((index) => values[index]);
      return [
        fromColumns(caption, [column(headX, take(mark.x), figure), column(headY, take(mark.y), figure)]),
      ];
    }
    case 'bars': {
      const n = mark.heights.length;
      const edges = Array.from(mark.edges);
      const from = column(`${headX}, ${phrases.from}`, edges.slice(0, n), figure);
      const to = column(`${headX}, ${phrases.to}`, edges.slice(1, n + 1), figure);
      return [fromColumns(caption, [from, to, column(headY, mark.heights, figure, null)])];
    }
    case 'region': {
      const from = column(`${headX}, ${phrases.from}`, [mark.from], figure);
      return [fromColumns(caption, [from, column(`${headX}, ${phrases.to}`, [mark.to], figure)])];
    }
    default:
      return [];
  }
}

function tableOfRules(rules: readonly RuleMark[], figure: ChartFigure, y: NumberAxis | null): FigureTable {
  const phrases = phrasesOf(figure.language);
  const [first] = rules;
  const axis = first?.along === 'y' && y !== null ? y : figure.x;
  const names = { heading: phrases.row, cells: rules.map(({ name }) => word(plainText(name))) };
  return fromColumns(plainText(axis.quantity), [
    names,
    column(
      plainText(axisTitle(axis)),
      rules.map(({ at }) => at),
      figure,
    ),
  ]);
}

function tableOfRows(figure: ChartFigure, { levels }: LevelsMark, labels: readonly string[]): FigureTable {
  const phrases = phrasesOf(figure.language);
  const values = levels.map((level) => (level.kind === 'total' ? level.value : level.to - level.from));
  const heading = plainText(axisTitle(figure.x));
  return fromColumns(figure.title, [
    { heading: phrases.row, cells: labels.map(word) },
    column(heading, values, figure),
    column(
      phrases.standardUncertaintyOf(heading),
      levels.map(({ standardUncertainty }) => standardUncertainty),
      figure,
      2,
    ),
  ]);
}

function schematicTables(figure: Exclude<Figure, ChartFigure>): readonly FigureTable[] {
  const blocks = figure.columns.flatMap(({ blocks: own }) => own);
  return blocks.map(({ heading, lines }) => ({
    caption: plainText(heading),
    headings: [plainText(heading)],
    rows: lines.map((line) => [word(plainText(line))]),
  }));
}

interface TableColumn {
  readonly heading: string;
  readonly cells: readonly TableCell[];
}

/** A column of numbers with equal decimals; `digits` null for numbers that are counted. */
function column(
  heading: string,
  values: Numbers,
  { decimalMark }: Wording,
  digits: number | null = DIGITS,
): TableColumn {
  const largest = Array.from(values, Math.abs)
    .filter(Number.isFinite)
    .reduce((most, value) => Math.max(most, value), 0);
  const lead = largest === 0 ? 0 : Math.floor(Math.log10(largest));
  const isPlain = lead >= -4 && lead <= 6;
  const format = (value: number): string => {
    if (digits === null) return formatNumber(value, { decimalMark });
    if (!isPlain) return formatNumber(value, { significant: digits, decimalMark });
    return formatNumber(value, { decimals: Math.max(0, digits - 1 - lead), decimalMark });
  };
  return {
    heading,
    cells: Array.from(values, (value) =>
      Number.isFinite(value) ? { text: format(value), value } : { text: '\u2013', value: null },
    ),
  };
}

function word(text: string): TableCell {
  return { text, value: null };
}

function fromColumns(caption: string, columns: readonly TableColumn[]): FigureTable {
  const count = Math.max(0, ...columns.map(({ cells }) => cells.length));
  return {
    caption,
    headings: columns.map(({ heading }) => heading),
    rows: Array.from({ length: count }, (_, row) => columns.map(({ cells }) => cells[row] ?? word(''))),
  };
}

function pick(count: number): readonly number[] {
  if (count <= CURVE_ROWS) return Array.from({ length: count }, (_, index) => index);
  return Array.from({ length: CURVE_ROWS }, (_, row) => Math.round((row * (count - 1)) / (CURVE_ROWS - 1)));
}
