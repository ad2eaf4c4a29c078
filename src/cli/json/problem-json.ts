import type { Problem } from '../../problem/index.ts';

/** A problem as the JSON has it: every key there, null where nothing is known. */
export function problemToJson(found: Problem): Readonly<Record<string, string | number | null>> {
  const { file, line, column, step } = found.place;
  return {
    code: found.code,
    severity: found.severity,
    file: file ?? null,
    line: line ?? null,
    column: column ?? null,
    step: step ?? null,
    message: found.message,
    try_this: found.tryThis ?? null,
  };
}
