import {
  type Lab,
  loadTrials,
  type OutsideReadings,
  type Pipeline,
  type ReadFile,
  type TrialEntry,
  type TrialRun,
} from '../../../src/lab/index.ts';
import type { Outcome, Problem } from '../../../src/problem/index.ts';
import { succeed } from '../../../src/problem/index.ts';
import { formatEstimate } from '../../../src/quantity/index.ts';
import { labelSettings, type ReducedRun, reduceTrials } from '../../../src/run/index.ts';
import type { LabSource } from '../source.ts';
import type { Task } from '../task.ts';

export interface TrialsQuestion {
  readonly source: LabSource;
}

/** How one run of the lab stands. */
export interface SeenRun {
  readonly name: string;
  readonly file: string;
  /** 'L = 1.2 m'; '' where nothing is set. */
  readonly settings: string;
  readonly setAside: string | null;
  /** Readings that count; null where the file cannot be read. */
  readonly readings: number | null;
  readonly outside: readonly OutsideReadings[];
  /** Rows that the reduction kept. */
  readonly kept: number | null;
  readonly results: readonly { readonly name: string; readonly says: string }[];
  /** Why it gives no result, and what a person should know. */
  readonly problems: readonly Problem[];
}

/** Each run of the lab for itself: what its file gave, and what the reduction made of it. */
export const trialsTask: Task<TrialsQuestion, readonly SeenRun[]> = {
  async run(room, { source }, report): Promise<Outcome<readonly SeenRun[]>> {
    const opened = room.openAlone(source);
    if (!opened.ok) return opened;
    const { lab, pipeline } = opened.value;
    const read = room.readerOf(source.files);
    const seen: SeenRun[] = [];
    for (const [index, entry] of lab.trials.entries()) {
      report.progress(index, lab.trials.length, 'trials');
      seen.push(await seeRun(pipeline, lab, entry, read));
    }
    return succeed(seen);
  },
};

async function seeRun(pipeline: Pipeline, lab: Lab, entry: TrialEntry, read: ReadFile): Promise<SeenRun> {
  const head = {
    name: entry.name,
    file: entry.file,
    settings: entry.when.length === 0 ? '' : labelSettings(entry.when),
    setAside: entry.setAside,
  };
  const nothing = { outside: [], kept: null, results: [] };
  const loaded = await loadTrials({ ...lab, trials: [entry] }, read);
  if (!loaded.ok) return { ...head, ...nothing, readings: null, problems: loaded.problems };
  const [run] = loaded.value;
  const readings = run === undefined ? 0 : countOf(run);
  const outside = run?.outside.filter(({ before, behind }) => before + behind > 0) ?? [];
  if (entry.setAside !== null) return { ...head, ...nothing, outside, readings, problems: [] };
  const reduced = reduceTrials(pipeline, loaded.value);
  if (!reduced.ok) return { ...head, ...nothing, outside, readings, problems: reduced.problems };
  const [failed] = reduced.value.failed;
  const [done] = reduced.value.runs;
  if (done === undefined) return { ...head, ...nothing, outside, readings, problems: failed?.problems ?? [] };
  return {
    ...head,
    readings,
    outside,
    kept: done.rows,
    results: resultsOf(lab, done),
    problems: [...loaded.warnings, ...done.notes],
  };
}

function countOf({ readings }: TrialRun): number {
  return readings.reduce((sum, { columns }) => sum + (columns[0]?.values.length ?? 0), 0);
}

function resultsOf(lab: Lab, { scalars }: ReducedRun): SeenRun['results'] {
  return lab.results.flatMap(({ name, unit, scope }) => {
    const scalar = scope === 'run' ? scalars.get(name) : undefined;
    return scalar === undefined ? [] : [{ name, says: formatEstimate(scalar, unit) }];
  });
}
