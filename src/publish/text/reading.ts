import { nearestName, type Place, type Problem, problem } from '../../problem/index.ts';

/** A stretch of the text with its offsets, as the Markdown reader gives it. */
export interface Positioned {
  readonly position?: {
    readonly start: { readonly line: number; readonly column: number; readonly offset?: number };
    readonly end: { readonly offset?: number };
  };
}

/** One author's text while it is read: its file, its source, and the problems found so far. */
export interface Reading {
  readonly file: string;
  readonly source: string;
  readonly problems: Problem[];
}

export function placeOf(reading: Reading, node: Positioned): Place {
  const start = node.position?.start;
  return start === undefined
    ? { file: reading.file }
    : { file: reading.file, line: start.line, column: start.column };
}

export function tell(
  reading: Reading,
  node: Positioned,
  code: string,
  message: string,
  tryThis?: string,
): void {
  reading.problems.push(problem(code, placeOf(reading, node), message, tryThis));
}

/** Tells that a name is not known, with the nearest one that is, else with all of them. */
export function tellUnknown(
  reading: Reading,
  node: Positioned,
  code: string,
  message: string,
  name: string,
  known: readonly string[],
): void {
  const near = nearestName(name, known);
  const all = known.length === 0 ? undefined : `There are ${known.join(', ')}.`;
  tell(reading, node, code, message, near === undefined ? all : `Did you mean "${near}"?`);
}

/** The source of neighbouring nodes, character by character: formulas are no Markdown. */
export function sourceOf(reading: Reading, nodes: readonly Positioned[]): string {
  const start = nodes[0]?.position?.start.offset;
  const end = nodes.at(-1)?.position?.end.offset;
  return start === undefined || end === undefined ? '' : reading.source.slice(start, end);
}
