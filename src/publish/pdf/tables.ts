import type { TableBlock } from '../document/index.ts';
import { columnLooks, columnWidths, isRowForHand } from '../writing/index.ts';
import { type InlineContext, typstInlines } from './inlines.ts';

/** Tables up to so many rows stay on one page. */
const ROWS_KEPT_TOGETHER = 16;

interface Closeness {
  /** From so many columns on. */
  readonly columns: number;
  /** Letters that stand beside one another on a page of A4. */
  readonly letters: number;
  /** Room left and right of what stands in a cell, in letters. */
  readonly padding: number;
  readonly markup: string;
}

/** The more columns, the closer a table is set, or numbers would run into one another. */
const CLOSENESS: readonly Closeness[] = [
  { columns: 9, letters: 118, padding: 1.1, markup: setCloser('0.78em', '2pt') },
  { columns: 7, letters: 104, padding: 1.4, markup: setCloser('0.86em', '3pt') },
];

const USUAL: Closeness = { columns: 0, letters: 90, padding: 2.4, markup: '' };

function setCloser(size: string, inset: string): string {
  return `#set text(size: ${size})\n#set table(inset: (x: ${inset}))\n`;
}

/** A table with its caption above; its head comes again on each page. */
export function typstTable(table: TableBlock, context: InlineContext): string {
  const looks = columnLooks(table, context.settings);
  const head = table.head.map((cell) => `[#strong[${typstInlines(cell, context)}]]`);
  const cells = table.rows.flatMap((row, index) => {
    const inset = isRowForHand(row) ? 'table.cell(inset: (y: 6.5pt))' : '';
    return looks.map(({ paddings }, column) => {
      const padding = paddings[index] ?? 0;
      const room = padding === 0 ? '' : `#h(${padding} * 0.465em);`;
      return `${inset}[${typstInlines(row[column] ?? [], context)}${room}]`;
    });
  });
  const empty = Array.from({ length: table.emptyRows * looks.length }, () => 'empty-cell');
  const breakable = table.rows.length + table.emptyRows > ROWS_KEPT_TOGETHER;
  const close = CLOSENESS.find(({ columns }) => looks.length >= columns) ?? USUAL;
  const shared = columnWidths(table, context.settings, close.letters, close.padding);
  const widths =
    shared === null
      ? looks.map(({ isForHand }) => (isForHand ? 'hand-width' : 'auto'))
      : shared.map((width) => `${width.toFixed(2)}fr`);
  const aligns = looks.map(({ align }) => align);
  const body = [...cells, ...empty].join(', ');
  return (
    `#[${close.markup}#show figure: set block(breakable: ${breakable})\n` +
    `#figure(kind: table, ${captionOf(table.caption, context)}` +
    `table(columns: (${widths.join(', ')},), align: (${aligns.join(', ')},), table.header(${head.join(', ')}), ${body}))]`
  );
}

/** The caption of a figure or table, where it has one. */
export function captionOf(caption: TableBlock['caption'], context: InlineContext): string {
  return caption.length === 0 ? '' : `caption: [${typstInlines(caption, context)}], `;
}
