import type { TableBlock } from '../document/index.ts';
import { columnLooks, isRowForHand } from '../writing/index.ts';
import { type InlineContext, typstInlines } from './inlines.ts';

/** Tables up to so many rows stay on one page. */
const ROWS_KEPT_TOGETHER = 16;

/** From so many columns on a table is set closer, or numbers would run into one another. */
const MANY_COLUMNS = 7;

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
  const widths = looks.map(({ isForHand }) => (isForHand ? 'hand-width' : 'auto'));
  const aligns = looks.map(({ align }) => align);
  const body = [...cells, ...empty].join(', ');
  const isWide = looks.length >= MANY_COLUMNS;
  const close = isWide ? '#set text(size: 0.86em)\n#set table(inset: (x: 3pt))\n' : '';
  return (
    `#[${close}#show figure: set block(breakable: ${breakable})\n` +
    `#figure(kind: table, ${captionOf(table.caption, context)}` +
    `table(columns: (${widths.join(', ')},), align: (${aligns.join(', ')},), table.header(${head.join(', ')}), ${body}))]`
  );
}

/** The caption of a figure or table, where it has one. */
export function captionOf(caption: TableBlock['caption'], context: InlineContext): string {
  return caption.length === 0 ? '' : `caption: [${typstInlines(caption, context)}], `;
}
