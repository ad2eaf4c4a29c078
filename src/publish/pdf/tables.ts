import type { TableBlock } from '../document/index.ts';
import { paddingOfColumn } from '../writing/index.ts';
import { type InlineContext, typstInlines } from './inlines.ts';

/** Tables up to so many rows stay on one page. */
const ROWS_KEPT_TOGETHER = 14;

/** A table with its caption above; its head comes again on each page. */
export function typstTable(table: TableBlock, context: InlineContext): string {
  const columns = Math.max(1, table.head.length);
  const aligns = Array.from({ length: columns }, (_none, column) =>
    (table.align[column] ?? 'left') === 'left' ? 'left' : 'right',
  );
  const paddings = table.align.map((align, column) =>
    align === 'number'
      ? paddingOfColumn(
          table.rows.map((row) => row[column] ?? []),
          context.settings,
        )
      : [],
  );
  const head = table.head.map((cell) => `[#strong[${typstInlines(cell, context)}]]`);
  const cells = table.rows.flatMap((row, index) =>
    aligns.map((_align, column) => {
      const padding = paddings[column]?.[index] ?? 0;
      const room = padding === 0 ? '' : `#h(${padding} * 0.465em);`;
      return `[${typstInlines(row[column] ?? [], context)}${room}]`;
    }),
  );
  const empty = Array.from({ length: table.emptyRows * columns }, () => 'empty-cell');
  const breakable = table.rows.length + table.emptyRows > ROWS_KEPT_TOGETHER;
  const body = [...cells, ...empty].join(', ');
  return (
    `#[#show figure: set block(breakable: ${breakable})\n` +
    `#figure(kind: table, ${captionOf(table.caption, context)}` +
    `table(columns: ${columns}, align: (${aligns.join(', ')},), table.header(${head.join(', ')}), ${body}))]`
  );
}

/** The caption of a figure or table, where it has one. */
export function captionOf(caption: TableBlock['caption'], context: InlineContext): string {
  return caption.length === 0 ? '' : `caption: [${typstInlines(caption, context)}], `;
}
