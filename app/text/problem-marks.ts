import type { Problem } from '../../src/problem/index.ts';
import { LAB_FILE } from '../bench/lab-file.ts';

/** Where in the text a problem is marked. */
export interface ProblemMark {
  readonly from: number;
  readonly to: number;
  readonly problem: Problem;
}

/**
 * The stretches of a text that problems speak of: from the place named to the end of what is written there.
 *
 * Problems of other files, and those that name no line, have none.
 */
export function markProblems(text: string, problems: readonly Problem[]): readonly ProblemMark[] {
  const lines = text.split('\n');
  const starts: number[] = [];
  let at = 0;
  for (const line of lines) {
    starts.push(at);
    at += line.length + 1;
  }
  return problems.flatMap((problem): ProblemMark[] => {
    const { file, line: number, column = 1 } = problem.place;
    if (file !== LAB_FILE || number === undefined) return [];
    const index = Math.min(Math.max(number, 1), lines.length) - 1;
    const line = lines[index] ?? '';
    const start = starts[index] ?? 0;
    const first = Math.min(column - 1, line.length);
    const written = /^[^\s,:[\]{}#]+|^\S/.exec(line.slice(first))?.[0].length ?? 0;
    // At the end of a line there is nothing to mark but what stands before it.
    const from = written === 0 ? Math.max(first - 1, 0) : first;
    return [{ from: start + from, to: start + first + written, problem }];
  });
}
