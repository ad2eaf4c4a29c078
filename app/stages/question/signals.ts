import { isRecord, textAt } from '../../bench/plain.ts';

/** What each instrument is pointed at, as the lab file has it. */
export function signalsOf(instruments: unknown): ReadonlyMap<string, string> {
  if (!isRecord(instruments)) return new Map();
  return new Map(
    Object.entries(instruments).flatMap(([name, form]) => {
      const of = textAt(form, ['of']);
      return of === undefined ? [] : [[name, of] as const];
    }),
  );
}
