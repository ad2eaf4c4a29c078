import { readCell } from './cell.ts';
import { withoutUnits } from './cell-units.ts';
import type { Dialect } from './dialect.ts';
import { exactPowers, longNumber } from './long-number.ts';
import { growBlock } from './raw-table.ts';
import { readRecord, type TextRecord } from './records.ts';
import type { Row } from './shape.ts';
import type { TableBuilder } from './table-builder.ts';

/** So many readings go through the careful path first: they show what the columns hold. */
const carefulRows = 64;

/** Whole numbers up to here are doubles; what goes beyond it while digits are added stays beyond. */
const largestExact = 2 ** 53 - 1;

/** A record with what its cells hold. */
export function toRow(record: TextRecord, dialect: Dialect): Row {
  const texts = withoutUnits(record.cells, dialect.cellUnits);
  const cells = texts.map((text) => readCell(text, dialect.marks));
  return { line: record.line, texts, cells, text: record.text };
}

/**
 * Reads the lines of numbers from byte `start` to the end into the builder.
 *
 * A line of plain numbers goes straight from bytes to doubles: digits m up to 2^53 and a power of ten 10^k with
 * |k| ≤ 22 are both exact, so m·10^k or m/10^k is rounded once and equals Number() bit for bit (Clinger 1990,
 * "How to read floating point numbers accurately", PLDI); any other number goes through longNumber(). A line with
 * anything else in it (words, marks for missing values, clock times, cells too few) takes the careful path.
 *
 * @param line number of the line at `start`
 * @param lastLine last line to read
 * @returns false where `signal` asked to stop
 */
export function parseDelimited(
  utf8: Uint8Array,
  start: number,
  line: number,
  lastLine: number,
  dialect: Dialect,
  builder: TableBuilder,
  signal: { readonly aborted: boolean } | undefined,
): boolean {
  let at = start;
  let lineNumber = line;
  let first = true;
  let patience = 0;
  while (at < utf8.length && lineNumber <= lastLine) {
    const careful = first || builder.block.length < carefulRows || builder.isSkipping;
    if (!careful && --patience < 0) {
      const stop = parsePlainLines(utf8, at, lineNumber, lastLine, dialect, builder, signal);
      // A file whose every line needs care is not tried again at every line.
      patience = stop.line === lineNumber ? carefulRows : 0;
      at = stop.at;
      lineNumber = stop.line;
      if (stop.aborted) return false;
      if (at >= utf8.length || lineNumber > lastLine) break;
    }
    if ((lineNumber & 4095) === 0 && signal?.aborted === true) return false;
    const record = readRecord(utf8, at, lineNumber, dialect.delimiter);
    builder.addRow(toRow(record, dialect), first);
    first = false;
    at = record.end;
    lineNumber += record.lines;
  }
  return true;
}

/** Reads lines while they hold nothing but numbers, blanks and delimiters; says where it had to stop. */
function parsePlainLines(
  utf8: Uint8Array,
  start: number,
  line: number,
  lastLine: number,
  dialect: Dialect,
  builder: TableBuilder,
  signal: { readonly aborted: boolean } | undefined,
): { at: number; line: number; aborted: boolean } {
  const block = builder.block;
  const width = block.columns.length;
  const isRead = Uint8Array.from(block.columns, (column) => (column.values.length > 0 ? 1 : 0));
  // Three-part clock times without dates take the straight path too; the first readings have shown which columns.
  const isClock = block.columns.map((column) => column.kind === 'clock' && column.firstDay === null);
  const blanksSeparate = dialect.delimiter === 'space';
  const delimiter = blanksSeparate || dialect.delimiter === 'none' ? -1 : dialect.delimiter.charCodeAt(0);
  const tab = delimiter === 9 ? -1 : 9;
  const decimal = dialect.marks.decimal.charCodeAt(0);
  // The last line may lack its end: it is left to the careful path, so that no byte is read past the end.
  let end = utf8.length;
  while (end > start && utf8[end - 1] !== 10 && utf8[end - 1] !== 13) end--;
  let columns = block.columns.map((column) => column.values);
  let at = start;
  let lineNumber = line;
  let row = block.length;
  while (at < end && lineNumber <= lastLine) {
    if (row >= block.lines.length) {
      block.length = row;
      growBlock(block);
      columns = block.columns.map((column) => column.values);
    }
    if ((lineNumber & 0xffff) === 0 && signal?.aborted === true) {
      block.length = row;
      return { at, line: lineNumber, aborted: true };
    }
    let p = at;
    let numbers = 0;
    let column = 0;
    let ended = utf8[p] === 35 || utf8[p] === 37 || utf8[p] === 33 || utf8[p] === 47;
    while (column < width && !ended) {
      let byte = utf8[p];
      while (byte === 32 || byte === tab) byte = utf8[++p];
      if (isRead[column] === 0) {
        if (byte === 34) break;
        while (
          byte !== 10 &&
          byte !== 13 &&
          byte !== delimiter &&
          !(blanksSeparate && (byte === 32 || byte === 9))
        )
          byte = utf8[++p];
      } else if (byte === delimiter || byte === 10 || byte === 13) {
        if (blanksSeparate || width === 1) break;
        columns[column][row] = Number.NaN;
      } else {
        const quoted = byte === 34;
        if (quoted) byte = utf8[++p];
        const from = p;
        if (isClock[column]) {
          p = endOfClock(utf8, from);
          if (p < 0) break;
          columns[column][row] = clockSeconds(utf8, from, p);
          byte = utf8[p];
          if (quoted) {
            if (byte !== 34) break;
            p++;
          }
          numbers++;
          byte = utf8[p];
          if (byte !== delimiter && byte !== 10 && byte !== 13 && byte !== 32 && byte !== 9) break;
        } else {
          let negative = false;
          if (byte === 45) {
            negative = true;
            byte = utf8[++p];
          } else if (byte === 43) byte = utf8[++p];
          let mantissa = 0;
          let scale = 0;
          const digitsFrom = p;
          while (byte >= 48 && byte <= 57) {
            mantissa = mantissa * 10 + (byte - 48);
            byte = utf8[++p];
          }
          let digits = p - digitsFrom;
          if (byte === decimal) {
            byte = utf8[++p];
            const fractionFrom = p;
            while (byte >= 48 && byte <= 57) {
              mantissa = mantissa * 10 + (byte - 48);
              byte = utf8[++p];
            }
            scale = fractionFrom - p;
            digits -= scale;
            // '5,' is a number cut off by its own decimal comma, or by a comma that was meant otherwise.
            if (scale === 0 && decimal === 44) break;
          }
          if (digits === 0) break;
          if (byte === 69 || byte === 101) {
            byte = utf8[++p];
            let sign = 1;
            if (byte === 45) {
              sign = -1;
              byte = utf8[++p];
            } else if (byte === 43) byte = utf8[++p];
            let exponent = 0;
            const exponentFrom = p;
            while (byte >= 48 && byte <= 57) {
              exponent = exponent * 10 + (byte - 48);
              byte = utf8[++p];
            }
            if (p === exponentFrom || p - exponentFrom > 4) break;
            scale += sign * exponent;
          }
          let value = mantissa;
          if (mantissa > largestExact || scale > 22 || scale < -22)
            value = longNumber(utf8, from, p, decimal);
          else {
            if (scale > 0) value *= exactPowers[scale];
            else if (scale < 0) value /= exactPowers[-scale];
            if (negative) value = -value;
          }
          if (quoted) {
            if (byte !== 34) break;
            byte = utf8[++p];
          }
          columns[column][row] = value;
          numbers++;
        }
      }
      const afterCell = p;
      while (byte === 32 || byte === tab) byte = utf8[++p];
      if (byte === 10 || byte === 13) ended = true;
      else if (blanksSeparate) {
        if (p === afterCell) break;
      } else if (byte === delimiter) p++;
      else break;
      column++;
    }
    if (column !== width || numbers === 0) break;
    if (!ended) {
      // All columns are full and a delimiter stands behind the last: only blanks and delimiters may follow.
      let byte = utf8[p];
      while (byte === 32 || byte === tab || byte === delimiter) byte = utf8[++p];
      if (byte !== 10 && byte !== 13) break;
    }
    block.lines[row] = lineNumber;
    row++;
    lineNumber++;
    at = utf8[p] === 13 && utf8[p + 1] === 10 ? p + 2 : p + 1;
  }
  block.length = row;
  return { at, line: lineNumber, aborted: false };
}

/** Byte after a clock time hh:mm:ss with or without a fraction; -1 where none stands at `from`. */
function endOfClock(utf8: Uint8Array, from: number): number {
  let p = endOfDigits(utf8, from);
  if (p === from || p > from + 4 || utf8[p] !== 58) return -1;
  for (let part = 0; part < 2; part++) {
    const start = p + 1;
    p = endOfDigits(utf8, start);
    if (p === start || p > start + 2 || (p === start + 2 && utf8[start] > 53)) return -1;
    if (part === 0 && utf8[p] !== 58) return -1;
  }
  if (utf8[p] !== 46 && utf8[p] !== 44) return p;
  const start = p + 1;
  // A comma may as well be the delimiter: the number of digits behind it does not tell, so it is left to care.
  if (utf8[p] === 44) return -1;
  p = endOfDigits(utf8, start);
  return p === start || p > start + 6 ? -1 : p;
}

function endOfDigits(utf8: Uint8Array, from: number): number {
  let p = from;
  while (utf8[p] >= 48 && utf8[p] <= 57) p++;
  return p;
}

/** Whole seconds and fraction as one integer, divided once: the double nearest to what is written. */
function clockSeconds(utf8: Uint8Array, from: number, to: number): number {
  let whole = 0;
  let part = 0;
  let fractionDigits = -1;
  for (let p = from; p < to; p++) {
    const byte = utf8[p];
    if (byte === 58) {
      whole = (whole + part) * 60;
      part = 0;
    } else if (byte === 46) {
      whole += part;
      part = 0;
      fractionDigits = 0;
    } else {
      part = part * 10 + (byte - 48);
      if (fractionDigits >= 0) fractionDigits++;
    }
  }
  if (fractionDigits < 0) return whole + part;
  const scale = exactPowers[fractionDigits];
  return (whole * scale + part) / scale;
}
