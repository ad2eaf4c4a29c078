import stringWidth from 'string-width';
import type { Page, Style } from './page.ts';

export interface Cell {
  readonly text: string;
  readonly style?: Style;
}

export interface TableColumn {
  readonly heading?: string;
  readonly align?: 'left' | 'right';
  /** Longer texts go on in the next line; only for columns aligned left. */
  readonly widest?: number;
}

/** Characters between columns. */
const gap = 2;

/**
 * Lines of a table without borders: columns as wide as their widest cell, headings faint above a rule.
 *
 * Texts are taken as they are: author's words go through `page.plain` first.
 */
export function printTable(
  page: Page,
  columns: readonly TableColumn[],
  rows: readonly (readonly (string | Cell)[])[],
): string[] {
  const body = rows.flatMap((row) => breakRow(columns, row.map(asCell)));
  const headings = columns.map(({ heading }): Cell => ({ text: heading ?? '', style: 'faint' }));
  const all = columns.some(({ heading }) => heading !== undefined) ? [headings, ...body] : body;
  const widths = columns.map((_, index) =>
    Math.max(0, ...all.map((row) => stringWidth(row[index]?.text ?? ''))),
  );
  const lines = all.map((row) => printRow(page, columns, widths, row));
  if (all === body) return lines;
  const length = widths.reduce((sum, width) => sum + width + gap, -gap);
  return [
    ...lines.slice(0, 1),
    page.paint(page.glyphs.rule.repeat(Math.max(length, 0)), 'faint'),
    ...lines.slice(1),
  ];
}

/** Words in lines of at most `width` characters; a longer word stands alone. */
function wrapWords(text: string, width: number): string[] {
  const lines: string[] = [];
  let line = '';
  for (const word of text.split(' ')) {
    const longer = line === '' ? word : `${line} ${word}`;
    if (line !== '' && stringWidth(longer) > width) {
      lines.push(line);
      line = word;
    } else {
      line = longer;
    }
  }
  return [...lines, line];
}

/** A paragraph on the page: wrapped, its later lines set in by `indent` more than its first. */
export function printParagraph(page: Page, text: string, first = '', rest = first): string[] {
  return wrapWords(page.plain(text), page.width - stringWidth(rest)).map(
    (line, index) => `${index === 0 ? first : rest}${line}`,
  );
}

export function padEnd(text: string, width: number): string {
  return text + ' '.repeat(Math.max(width - stringWidth(text), 0));
}

function padStart(text: string, width: number): string {
  return ' '.repeat(Math.max(width - stringWidth(text), 0)) + text;
}

function asCell(cell: string | Cell): Cell {
  return typeof cell === 'string' ? { text: cell } : cell;
}

/** A row whose long cells go on below; what goes on is set in. */
function breakRow(columns: readonly TableColumn[], row: readonly Cell[]): readonly Cell[][] {
  const parts = row.map((cell, index) => {
    const widest = columns[index]?.widest;
    if (widest === undefined || stringWidth(cell.text) <= widest) return [cell.text];
    const indent = /^ */.exec(cell.text)?.[0] ?? '';
    return wrapWords(cell.text.trim(), widest - indent.length - 2).map(
      (line, at) => `${indent}${at === 0 ? '' : '  '}${line}`,
    );
  });
  const height = Math.max(1, ...parts.map((part) => part.length));
  return Array.from({ length: height }, (_, line) =>
    row.map((cell, index) => ({ ...cell, text: parts[index]?.[line] ?? '' })),
  );
}

function printRow(
  page: Page,
  columns: readonly TableColumn[],
  widths: readonly number[],
  row: readonly Cell[],
): string {
  const cells = columns.map((column, index) => {
    const cell = row[index] ?? { text: '' };
    const pad = column.align === 'right' ? padStart : padEnd;
    const padded = pad(cell.text, widths[index] ?? 0);
    return cell.style === undefined ? padded : page.paint(padded, cell.style);
  });
  return cells.join(' '.repeat(gap)).trimEnd();
}
