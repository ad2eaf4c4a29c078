import type { Node } from 'yaml';
import { isPlainList, isPlainMap, type PlainValue } from './lab-edit.ts';
import { type Setting, writeKey, writeScalar } from './write-scalar.ts';

/** A collection in brackets that would reach beyond this column is written in lines, where lines are possible. */
const WIDTH = 110;

/** How a new value is written: behind its key or dash, or in lines below it. */
export type Written =
  | { readonly kind: 'inline'; readonly text: string }
  /** Lines without their line breaks, indented; the first is that of the first entry. */
  | { readonly kind: 'lines'; readonly lines: readonly string[] };

export interface Style {
  readonly collections: 'brackets' | 'lines';
}

/**
 * A value as YAML.
 *
 * @param old     the node whose place it takes, or null
 * @param setting where it stands; a value in brackets is written in brackets throughout
 * @param style   how a collection is written where both ways are possible
 * @param column  at which it would begin, for its width
 */
export function writeValue(
  value: PlainValue,
  old: Node | null,
  setting: Setting,
  style: Style,
  column: number,
): Written {
  if (!isPlainMap(value) && !isPlainList(value))
    return { kind: 'inline', text: writeScalar(value, old, setting) };
  const inBrackets = writeInBrackets(value);
  const isEmpty = isPlainList(value) ? value.length === 0 : Object.keys(value).length === 0;
  const fits = column + inBrackets.length <= WIDTH || isFlat(value);
  if (setting.inBrackets || isEmpty || (style.collections === 'brackets' && fits))
    return { kind: 'inline', text: inBrackets };
  return { kind: 'lines', lines: writeLines(value, setting.indent + 2) };
}

/** A list of plain values reads best in brackets, however long. */
function isFlat(value: PlainValue): boolean {
  return isPlainList(value) && value.every((item) => typeof item !== 'object' || item === null);
}

function writeInBrackets(value: PlainValue): string {
  if (isPlainList(value)) return `[${value.map(writeInBrackets).join(', ')}]`;
  if (isPlainMap(value)) {
    const entries = Object.entries(value).map(
      ([key, inner]) => `${writeKey(key)}: ${writeInBrackets(inner)}`,
    );
    return entries.length === 0 ? '{}' : `{ ${entries.join(', ')} }`;
  }
  return writeScalar(value, null, { inBrackets: true, indent: 0 });
}

/** A collection in lines; what stands in it is in brackets where it fits, as the labs that come along have it. */
function writeLines(value: PlainValue, indent: number): readonly string[] {
  const pad = ' '.repeat(indent);
  if (isPlainList(value)) {
    return value.flatMap((item) => {
      const inner = writeValue(
        item,
        null,
        { inBrackets: false, indent },
        { collections: 'brackets' },
        indent + 2,
      );
      if (inner.kind === 'inline') return `${pad}- ${inner.text}`.split('\n');
      return inner.lines.map((line, index) => (index === 0 ? `${pad}- ${line.trimStart()}` : line));
    });
  }
  if (!isPlainMap(value)) return [];
  return Object.entries(value).flatMap(([key, inner]) => writeEntry(key, inner, indent));
}

/** A key with its value, in lines. */
function writeEntry(key: string, value: PlainValue, indent: number): readonly string[] {
  const head = `${' '.repeat(indent)}${writeKey(key)}:`;
  const written = writeValue(
    value,
    null,
    { inBrackets: false, indent },
    { collections: 'brackets' },
    head.length + 1,
  );
  return written.kind === 'inline' ? `${head} ${written.text}`.split('\n') : [head, ...written.lines];
}
