import { AlignmentType, BorderStyle, Paragraph, Table, TableCell, TableRow, TextRun, WidthType } from 'docx';
import { type Inline, plainLine, type TableBlock } from '../document/index.ts';
import { type ColumnLook, columnLooks, isRowForHand } from '../writing/index.ts';
import { type InlineContext, wordInlines } from './inlines.ts';

const RULE = { style: BorderStyle.SINGLE, size: 4, color: '999999' } as const;
const STRONG_RULE = { style: BorderStyle.SINGLE, size: 10, color: '222222' } as const;
const NONE = { style: BorderStyle.NONE, size: 0, color: 'auto' } as const;

/** Tables up to so many rows stay on one page. */
const ROWS_KEPT_TOGETHER = 10;

/** Width of a digit, of a page between its margins, and of the columns, in twentieths of a point. */
const DIGIT = 118;
const PAGE = 9300;
const SHORTEST_COLUMN = 1100;
const LONGEST_COLUMN = 4800;

/** A row that is filled in by hand; twentieths of a point. */
const HAND_HEIGHT = { value: 480, rule: 'atLeast' } as const;
const HAND_WIDTH = 1700;

/** A caption and a native table below it, whose head comes again on every page and whose rows are not torn. */
export function wordTable(table: TableBlock, label: string, context: InlineContext): (Paragraph | Table)[] {
  const looks = columnLooks(table, context.settings);
  const columns = looks.length;
  const count = table.rows.length + table.emptyRows;
  const keepsTogether = count <= ROWS_KEPT_TOGETHER;
  const cell = (inlines: readonly Inline[], column: number, padding: number, row: number): TableCell =>
    new TableCell({
      margins: { top: 50, bottom: 50, left: 100, right: 100 },
      children: [
        new Paragraph({
          style: 'TableText',
          keepNext: row < 0 || (keepsTogether && row < count - 1),
          alignment: looks[column]?.align === 'right' ? AlignmentType.RIGHT : AlignmentType.LEFT,
          children: [
            ...wordInlines(inlines, context, row < 0 ? { bold: true } : {}),
            ...(padding === 0 ? [] : [new TextRun('\u2007'.repeat(padding))]),
          ],
        }),
      ],
    });
  const head = new TableRow({
    tableHeader: true,
    cantSplit: true,
    children: table.head.map((inlines, column) => cell(inlines, column, 0, -1)),
  });
  const rows = table.rows.map(
    (row, index) =>
      new TableRow({
        cantSplit: true,
        ...(isRowForHand(row) ? { height: HAND_HEIGHT } : {}),
        children: Array.from({ length: columns }, (_none, column) =>
          cell(row[column] ?? [], column, looks[column]?.paddings[index] ?? 0, index),
        ),
      }),
  );
  const empty = Array.from(
    { length: table.emptyRows },
    (_none, index) =>
      new TableRow({
        cantSplit: true,
        height: HAND_HEIGHT,
        children: Array.from({ length: columns }, (_each, column) =>
          cell([], column, 0, table.rows.length + index),
        ),
      }),
  );
  const widths = columnWidths(table, looks, context);
  return [
    new Paragraph({
      style: 'Caption',
      keepNext: true,
      children: [new TextRun({ text: `${label}. `, bold: true }), ...wordInlines(table.caption, context)],
    }),
    new Table({
      rows: [head, ...rows, ...empty],
      columnWidths: widths,
      width: { size: widths.reduce((sum, width) => sum + width, 0), type: WidthType.DXA },
      tableLook: { firstRow: true, noHBand: true, noVBand: true },
      borders: {
        top: STRONG_RULE,
        bottom: STRONG_RULE,
        left: table.emptyRows > 0 ? RULE : NONE,
        right: table.emptyRows > 0 ? RULE : NONE,
        insideHorizontal: RULE,
        insideVertical: table.emptyRows > 0 ? RULE : NONE,
      },
    }),
    new Paragraph({ style: 'AfterTable' }),
  ];
}

/** Widths by the longest text of each column, in twentieths of a point; wider than the page is narrowed in step. */
function columnWidths(
  table: TableBlock,
  looks: readonly ColumnLook[],
  { settings }: InlineContext,
): number[] {
  const wanted = looks.map(({ isForHand }, column) => {
    const cells = [table.head[column] ?? [], ...table.rows.map((row) => row[column] ?? [])];
    const longest = Math.max(...cells.map((cell) => plainLine(cell, settings).length));
    return Math.min(
      LONGEST_COLUMN,
      Math.max(isForHand ? HAND_WIDTH : SHORTEST_COLUMN, longest * DIGIT + 300),
    );
  });
  const scale = Math.min(1, PAGE / wanted.reduce((sum, width) => sum + width, 0));
  return wanted.map((width) => Math.floor(width * scale));
}
