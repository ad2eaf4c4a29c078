import { type Inline, plainLine, type TableBlock } from '../document/index.ts';
import { type ColumnLook, columnLooks, isRowForHand, xmlText } from '../writing/index.ts';
import { htmlInlines, type InlineContext } from './inlines.ts';

/** Cells up to so many characters keep to one line. */
const NARROW = 24;

/** Tables up to so many rows stay on one page. */
const ROWS_KEPT_TOGETHER = 16;

/** A table with its caption; a heading names its column to those who hear the page. */
export function htmlTable(table: TableBlock, label: string, context: InlineContext): string {
  const caption = table.caption.length === 0 ? '' : ` ${htmlInlines(table.caption, context)}`;
  const looks = columnLooks(table, context.settings);
  const head = table.head
    .map((cell, column) => `<th scope="col"${classOf(looks[column])}>${htmlHead(cell, context)}</th>`)
    .join('');
  const rows = table.rows.map(
    (row, index) =>
      `<tr${isRowForHand(row) ? ' class="hand"' : ''}>${row
        .map((cell, column) => htmlCell(cell, looks[column], index, context))
        .join('')}</tr>`,
  );
  const empty = Array.from(
    { length: table.emptyRows },
    () =>
      `<tr>${table.head.map(() => `<td class="empty"><span class="heard">${context.words.blank}</span></td>`).join('')}</tr>`,
  );
  const isShort = rows.length + table.emptyRows <= ROWS_KEPT_TOGETHER;
  return (
    `<div class="table${isShort ? ' short' : ''}" role="group" tabindex="0" aria-label="${label}"><table>\n` +
    `<caption><strong>${label}.</strong>${caption}</caption>\n` +
    `<thead><tr>${head}</tr></thead>\n<tbody>\n${[...rows, ...empty].join('\n')}\n</tbody>\n</table></div>`
  );
}

/**
 * What stands over a column. A head that is one symbol and nothing else is set as text, since not every reader finds
 * words in a formula.
 */
function htmlHead(cell: readonly Inline[], context: InlineContext): string {
  const [only, ...rest] = cell;
  if (only?.kind !== 'formula' || only.tree.kind !== 'name' || only.tree.primes > 0 || rest.length > 0)
    return htmlInlines(cell, context);
  const [letter = '', index] = only.tree.name.split('_');
  return `<var>${xmlText(letter)}</var>${index === undefined ? '' : `<sub>${xmlText(index)}</sub>`}`;
}

function classOf(look: ColumnLook | undefined, isNarrow = false): string {
  const classes = [
    ...(look?.align === 'right' ? ['right'] : []),
    ...(look?.isForHand === true ? ['by-hand'] : []),
    ...(isNarrow ? ['narrow'] : []),
  ];
  return classes.length === 0 ? '' : ` class="${classes.join(' ')}"`;
}

function htmlCell(
  cell: readonly Inline[],
  look: ColumnLook | undefined,
  row: number,
  context: InlineContext,
): string {
  const isNarrow = plainLine(cell, context.settings).length <= NARROW;
  // Figure spaces are as wide as digits.
  const room = '\u2007'.repeat(look?.paddings[row] ?? 0);
  return `<td${classOf(look, isNarrow)}>${htmlInlines(cell, context)}${room}</td>`;
}
