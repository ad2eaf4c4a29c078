import { AlignmentType, BorderStyle, Paragraph, Table, TableCell, TableRow, TextRun, WidthType } from 'docx';
import { type Inline, type PrintSettings, plainLine, type TableBlock } from '../document/index.ts';
import { type ColumnLook, columnLooks, isRowForHand, printValue } from '../writing/index.ts';
import { type InlineContext, wordInlines } from './inlines.ts';
import { SMALL_TABLE, TABLE } from './styles.ts';

const RULE = { style: BorderStyle.SINGLE, size: 4, color: '999999' } as const;
const STRONG_RULE = { style: BorderStyle.SINGLE, size: 10, color: '222222' } as const;
const NONE = { style: BorderStyle.NONE, size: 0, color: 'auto' } as const;

/** Tables up to so many rows stay on one page. */
const ROWS_KEPT_TOGETHER = 16;

/** Width of a digit, of a page between its margins, and of the columns, in twentieths of a point. */
const DIGIT = 118;
const PAGE = 9300;
const SHORTEST_COLUMN = 1100;
const LONGEST_COLUMN = 4800;
const CELL_MARGINS = 260;

/** A row that is filled in by hand; twentieths of a point. */
const HAND_HEIGHT = { value: 480, rule: 'atLeast' } as const;
const HAND_WIDTH = 1700;

/** A caption and a native table below it, whose head comes again on every page and whose rows are not torn. */
export function wordTable(table: TableBlock, label: string, context: InlineContext): (Paragraph | Table)[] {
  const looks = columnLooks(table, context.settings);
  const { widths, isTight } = columnWidths(table, looks, context);
  const columns = looks.length;
  const count = table.rows.length + table.emptyRows;
  const keepsTogether = count <= ROWS_KEPT_TOGETHER;
  const cell = (inlines: readonly Inline[], column: number, padding: number, row: number): TableCell =>
    new TableCell({
      margins: { top: 50, bottom: 50, left: 100, right: 100 },
      children: [
        new Paragraph({
          style: isTight ? 'TableTextSmall' : 'TableText',
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

/**
 * Widths in twentieths of a point: of each column at least its longest word or number, and as much of its longest text
 * as the page has room for.
 */
function columnWidths(
  table: TableBlock,
  looks: readonly ColumnLook[],
  { settings }: Pick<InlineContext, 'settings'>,
  digit = DIGIT,
): { readonly widths: number[]; readonly isTight: boolean } {
  const columns = looks.map(({ isForHand, paddings }, column) => {
    const [head = '', ...cells] = [
      table.head[column] ?? [],
      ...table.rows.map((row) => row[column] ?? []),
    ].map((cell) => unbrokenText(cell, settings));
    const padded = cells.map((text, row) => text + '\u2007'.repeat(paddings[row] ?? 0));
    const widthOf = (text: string) => text.length * digit + CELL_MARGINS;
    const words = [head, ...padded].flatMap((text) => text.split(' '));
    const least = Math.max(
      isForHand ? HAND_WIDTH : SHORTEST_COLUMN,
      ...words.map((word) => Math.min(widthOf(word), LONGEST_COLUMN)),
    );
    const wanted = Math.max(
      least,
      ...[head, ...padded].map((text) => Math.min(widthOf(text), LONGEST_COLUMN)),
    );
    return { least, wanted };
  });
  const sum = (pick: (column: { least: number; wanted: number }) => number) =>
    columns.reduce((total, column) => total + pick(column), 0);
  const room = PAGE - sum(({ least }) => least);
  const wish = sum(({ least, wanted }) => wanted - least);
  if (room < 0 && digit === DIGIT)
    return { ...columnWidths(table, looks, { settings }, (DIGIT * SMALL_TABLE) / TABLE), isTight: true };
  const share = wish === 0 ? 0 : Math.min(1, Math.max(0, room) / wish);
  const scale = Math.min(1, PAGE / (PAGE - Math.min(0, room)));
  const widths = columns.map(({ least, wanted }) => Math.floor(scale * (least + share * (wanted - least))));
  return { widths, isTight: false };
}

/** A cell as text whose spaces are only those at which a line may end. */
function unbrokenText(cell: readonly Inline[], settings: PrintSettings): string {
  return cell
    .map((inline) => {
      if (inline.kind === 'value') return printValue(inline, settings);
      const text = plainLine([inline], settings);
      return inline.kind === 'formula' || inline.kind === 'tex' ? text.replaceAll(' ', '\u00a0') : text;
    })
    .join('');
}
