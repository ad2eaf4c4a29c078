import type { Delimiter } from './trial-table.ts';

/** The cells of one line. `open` is true where a quoted cell has not ended: it goes on in the next line. */
export interface SplitLine {
  readonly cells: string[];
  readonly open: boolean;
  readonly quoted: boolean;
}

/**
 * Splits a line into cells, without the blanks around them.
 *
 * A cell is quoted (RFC 4180) where a double quote stands first in it and its partner is followed by the
 * delimiter or the end; a doubled quote inside means one. A quote anywhere else is a character like others.
 * Where `quotes` is 'stand', all of them are.
 * With 'space', blanks at both ends of the line mean nothing and a run of blanks separates once.
 */
export function splitLine(
  line: string,
  delimiter: Delimiter,
  quotes: 'quote' | 'stand' = 'quote',
): SplitLine {
  if (delimiter === 'none') return { cells: [line.trim()], open: false, quoted: false };
  if (quotes === 'stand' || !line.includes('"')) {
    const cells = delimiter === 'space' ? splitAtBlanks(line) : line.split(delimiter).map(trimCell);
    return { cells, open: false, quoted: false };
  }
  return splitQuoted(line, delimiter);
}

function trimCell(cell: string): string {
  return cell.trim();
}

function splitAtBlanks(line: string): string[] {
  const text = line.trim();
  return text === '' ? [''] : text.split(/[ \t\f]+/);
}

function splitQuoted(line: string, delimiter: Delimiter): SplitLine {
  const cells: string[] = [];
  const blanksSeparate = delimiter === 'space';
  let at = 0;
  let quoted = false;
  for (;;) {
    while (at < line.length && isBlank(line, at) && line[at] !== delimiter) at++;
    if (blanksSeparate && at >= line.length && cells.length > 0) break;
    if (line[at] === '"') {
      const end = closingQuote(line, at);
      if (end < 0) return { cells: [...cells, line.slice(at + 1)], open: true, quoted: true };
      let next = end + 1;
      while (next < line.length && isBlank(line, next) && line[next] !== delimiter) next++;
      const ends = next >= line.length || line[next] === delimiter || (blanksSeparate && next > end + 1);
      if (ends) {
        quoted = true;
        cells.push(
          line
            .slice(at + 1, end)
            .replaceAll('""', '"')
            .trim(),
        );
        if (next >= line.length) break;
        at = blanksSeparate ? next : next + 1;
        continue;
      }
    }
    const end = endOfPlainCell(line, at, delimiter);
    cells.push(line.slice(at, end).trim());
    if (end >= line.length) break;
    at = end + 1;
  }
  return { cells, open: false, quoted };
}

function isBlank(line: string, at: number): boolean {
  const code = line.charCodeAt(at);
  return code === 32 || code === 9 || code === 12 || code === 0xa0;
}

function closingQuote(line: string, open: number): number {
  let at = open + 1;
  for (;;) {
    const quote = line.indexOf('"', at);
    if (quote < 0) return -1;
    if (line[quote + 1] !== '"') return quote;
    at = quote + 2;
  }
}

function endOfPlainCell(line: string, start: number, delimiter: Delimiter): number {
  if (delimiter !== 'space') {
    const end = line.indexOf(delimiter, start);
    return end < 0 ? line.length : end;
  }
  let end = start;
  while (end < line.length && !isBlank(line, end)) end++;
  return end;
}
