import type { LineCounter, Node } from 'yaml';
import type { Place } from '../problem/index.ts';

/** A key as plain data have it. */
export function nameOfKey(value: unknown): string {
  return value === null ? '' : String(value);
}

/** What turns offsets in the text of a file into places. */
export interface Places {
  readonly file: string;
  readonly lines: LineCounter;
}

export function offsetOf(node: Node): number {
  return node.range?.[0] ?? 0;
}

export function placeAtOffset({ file, lines }: Places, offset: number): Place {
  const { line, col } = lines.linePos(offset);
  return { file, line: Math.max(line, 1), column: Math.max(col, 1) };
}
