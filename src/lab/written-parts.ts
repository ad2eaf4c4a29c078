import type { LabForm } from './form.ts';

/** One step of the reduction as the lab file has it. */
export interface WrittenStep {
  readonly name: string;
  readonly settings: Readonly<Record<string, unknown>>;
}

/** What is said or changed in the author's own writing: steps and settings of instruments. */
export interface WrittenParts {
  readonly eachRun: readonly WrittenStep[];
  readonly acrossRuns: readonly WrittenStep[];
  /** Settings of each instrument, by its name. */
  readonly instruments: ReadonlyMap<string, Readonly<Record<string, unknown>>>;
}

/** The steps and instruments of a lab file as written. */
export function writtenParts({ reduction, instruments }: LabForm): WrittenParts {
  const stepsOf = (part: 'each run' | 'across runs'): readonly WrittenStep[] =>
    (reduction?.[part] ?? []).flatMap((step) =>
      Object.entries(step).map(([name, settings]) => ({ name, settings })),
    );
  return {
    eachRun: stepsOf('each run'),
    acrossRuns: stepsOf('across runs'),
    instruments: new Map(Object.entries(instruments ?? {})),
  };
}
