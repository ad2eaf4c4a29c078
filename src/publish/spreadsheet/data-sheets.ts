import type { WriteSheet } from 'hucre';
import type { DataTable, LineTable } from '../writing/index.ts';
import { address, createGrid, digitsFor, PLAIN, put, putFormula, sheetTitle, toSheet } from './grid.ts';
import type { SheetWords } from './sheet-words.ts';

/** The raw numbers of a trial, as they were read. */
export function dataSheet(table: DataTable, taken: Set<string>): WriteSheet {
  const grid = createGrid(sheetTitle(table.name, taken));
  for (const [column, { heading, values }] of table.columns.entries()) {
    put(grid, 0, column, heading, 'head');
    for (let k = 0; k < values.length; k++) {
      const value = values[k];
      if (value !== undefined && Number.isFinite(value)) put(grid, k + 1, column, value);
    }
  }
  return toSheet(grid, {
    freezePane: { rows: 1 },
    pageSetup: { printTitlesRow: '$1:$1' },
    columns: table.columns.map(({ heading }) => ({ width: Math.min(40, Math.max(12, heading.length + 2)) })),
  });
}

/** A straight line by the workbook's own functions, with the points and a drawing. */
export function lineSheet(table: LineTable, taken: Set<string>, words: SheetWords): WriteSheet {
  const grid = createGrid(sheetTitle(`${words.fit} ${table.name}`, taken));
  const count = Math.min(table.x.values.length, table.y.values.length);
  const head = 9;
  put(grid, 0, 0, words.against(table.y.heading, table.x.heading), 'title');
  put(grid, 1, 0, words.unweighted, 'quiet');
  put(grid, head, 0, table.x.heading, 'head');
  put(grid, head, 1, table.y.heading, 'head');
  const digits = [table.x.values, table.y.values].map((values) => digitsFor(largestOf(values)));
  for (let k = 0; k < count; k++) {
    put(grid, head + 1 + k, 0, table.x.values[k] ?? Number.NaN, 'plain', digits[0]);
    put(grid, head + 1 + k, 1, table.y.values[k] ?? Number.NaN, 'plain', digits[1]);
  }
  const column = (index: number): string =>
    `${address(head + 1, index, true)}:${address(head + count, index, true)}`;
  const [x, y] = [column(0), column(1)];
  put(grid, 3, 1, words.value, 'head');
  put(grid, 3, 2, words.uncertainty, 'head');
  const [widthX, widthY] = [widthOf(table.x.values), widthOf(table.y.values)];
  // Scales of slope, intercept and scatter: a hundredth of each still shows in five digits.
  const scale = [widthY / widthX / 100, widthY / 100, widthY / 100];
  const rows = [
    [words.slope, `SLOPE(${y},${x})`, `INDEX(LINEST(${y},${x},TRUE,TRUE),2,1)`],
    [words.intercept, `INTERCEPT(${y},${x})`, `INDEX(LINEST(${y},${x},TRUE,TRUE),2,2)`],
    [words.scatter, `STEYX(${y},${x})`, ''],
    [words.points, `COUNT(${x})`, ''],
  ];
  for (const [k, [label = '', value = '', uncertainty = '']] of rows.entries()) {
    put(grid, 4 + k, 0, label);
    const numFmt = k < 3 ? digitsFor(scale[k] ?? 0) : '0';
    putFormula(grid, 4 + k, 1, value, null, 'result', numFmt);
    if (uncertainty !== '') putFormula(grid, 4 + k, 2, uncertainty, null, 'result', numFmt);
  }
  // Two ends of the line, for the drawing.
  put(grid, head, 3, table.x.heading, 'head');
  put(grid, head, 4, words.fit, 'head');
  for (const [k, end] of ['MIN', 'MAX'].entries()) {
    putFormula(grid, head + 1 + k, 3, `${end}(${x})`, null, 'plain', digits[0]);
    putFormula(grid, head + 1 + k, 4, `$B$6+$B$5*${address(head + 1 + k, 3)}`, null, 'plain', digits[1]);
  }
  return toSheet(grid, {
    columns: [{ width: 34 }, { width: 20 }, { width: 24 }, { width: 20 }, { width: 16 }],
    charts: [
      {
        type: 'scatter',
        title: words.against(table.y.heading, table.x.heading),
        legend: false,
        series: [
          {
            name: table.name,
            values: y,
            categories: x,
            color: '1B1E23',
            marker: { symbol: 'circle', size: 6 },
            stroke: { width: 0 },
          },
          {
            name: words.fit,
            values: `$E$${head + 2}:$E$${head + 3}`,
            categories: `$D$${head + 2}:$D$${head + 3}`,
            color: 'D55E00',
            marker: { symbol: 'none' },
          },
        ],
        axes: {
          x: { title: table.x.heading, numberFormat: PLAIN },
          y: { title: table.y.heading, numberFormat: PLAIN },
        },
        anchor: { from: { row: 2, col: 6 }, to: { row: 24, col: 15 } },
      },
    ],
  });
}

function largestOf(values: ArrayLike<number>): number {
  return Array.from(values).reduce((largest, value) => Math.max(largest, Math.abs(value) || 0), 0);
}

/** From the least value to the largest; 1 where they are all alike. */
function widthOf(values: ArrayLike<number>): number {
  const known = Array.from(values).filter(Number.isFinite);
  const width =
    known.reduce((a, b) => Math.max(a, b), -Infinity) - known.reduce((a, b) => Math.min(a, b), Infinity);
  return width > 0 ? width : 1;
}
