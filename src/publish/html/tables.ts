import type { Inline, TableBlock } from '../document/index.ts';
import { paddingOfColumn } from '../writing/index.ts';
import { htmlInlines, type InlineContext } from './inlines.ts';

/** Tables up to so many rows stay on one page. */
const ROWS_KEPT_TOGETHER = 14;

/** A table with its caption; a heading names its column to those who hear the page. */
export function htmlTable(table: TableBlock, label: string, context: InlineContext): string {
  const caption = table.caption.length === 0 ? '' : ` ${htmlInlines(table.caption, context)}`;
  const head = table.head
    .map((cell, column) => `<th scope="col"${alignment(table, column)}>${htmlInlines(cell, context)}</th>`)
    .join('');
  const paddings = table.align.map((align, column) =>
    align === 'number'
      ? paddingOfColumn(
          table.rows.map((row) => row[column] ?? []),
          context.settings,
        )
      : [],
  );
  const rows = table.rows.map((row, index) =>
    row
      .map((cell, column) =>
        htmlCell(cell, alignment(table, column), paddings[column]?.[index] ?? 0, context),
      )
      .join(''),
  );
  const empty = Array.from({ length: table.emptyRows }, () =>
    table.head.map(() => `<td class="empty"><span class="heard">${context.words.blank}</span></td>`).join(''),
  );
  const body = [...rows, ...empty].map((row) => `<tr>${row}</tr>`).join('\n');
  return (
    `<div class="table${rows.length + table.emptyRows <= ROWS_KEPT_TOGETHER ? ' short' : ''}" role="group" tabindex="0" aria-label="${label}"><table>\n` +
    `<caption><strong>${label}.</strong>${caption}</caption>\n` +
    `<thead><tr>${head}</tr></thead>\n<tbody>\n${body}\n</tbody>\n</table></div>`
  );
}

function alignment(table: TableBlock, column: number): string {
  const align = table.align[column] ?? 'left';
  return align === 'left' ? '' : ` class="${align}"`;
}

function htmlCell(cell: readonly Inline[], align: string, padding: number, context: InlineContext): string {
  // Figure spaces are as wide as digits.
  return `<td${align}>${htmlInlines(cell, context)}${'\u2007'.repeat(padding)}</td>`;
}
