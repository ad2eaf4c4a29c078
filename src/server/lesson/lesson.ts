import {
  createBench,
  listStations,
  type Pooled,
  poolResults,
  readGroupFile,
  readReportedNumber,
  rehearseClass,
  type StationOfGroup,
  type StationOutlook,
  type StationResults,
} from '../../classroom/index.ts';
import type { Lab, Pipeline } from '../../lab/index.ts';
import { fail, type Outcome, type Problem, problem, succeed } from '../../problem/index.ts';
import type { EntryStore, KeptEntry, KeptGroup, KeptNumber } from './entry-store.ts';
import { type LessonLanguage, type LessonWords, wordsOf } from './words/index.ts';

/** How a number stands to the band that was rehearsed for its station. */
export type Standing = 'inside' | 'near' | 'far' | 'unknown';

export interface JudgedNumber extends KeptNumber {
  readonly standing: Standing;
}

/** A group with all that it entered, the last of each result counting. */
export interface GroupWork {
  readonly group: KeptGroup;
  readonly entries: readonly (KeptEntry & { readonly judged: readonly JudgedNumber[] })[];
  readonly last: ReadonlyMap<string, JudgedNumber>;
}

/** The lab of a lesson with what each station is expected to find. */
export interface Lesson {
  /** In which its pages speak, and the words for that. */
  readonly language: LessonLanguage;
  readonly words: LessonWords;
  readonly lab: Lab;
  readonly stations: readonly StationOfGroup[];
  /** Tells this lesson from others: the lab, its stations and their values. */
  readonly subject: string;
  judge(station: string, number: KeptNumber): Standing;
  /** Reads what a group typed, one text a result; empty texts are left out. */
  readTyped(written: ReadonlyMap<string, string>): Outcome<readonly KeptNumber[]>;
  /** Takes a group's readings through the lab's reduction with the values of its station. */
  reduceReadings(station: string, file: string, bytes: Uint8Array): Promise<Outcome<readonly KeptNumber[]>>;
  workOf(store: EntryStore): readonly GroupWork[];
  /** What the groups found together so far; null where the lab pools nothing. */
  pool(work: readonly GroupWork[]): { readonly groups: number; readonly pooled: Outcome<Pooled> } | null;
}

export interface LessonOptions {
  /** How many groups there are; the lab's own number where left out. */
  readonly groups?: number;
  readonly rehearsals?: number;
  /** English where left out. */
  readonly language?: LessonLanguage;
  readonly signal?: { readonly aborted: boolean };
  readonly progress?: (done: number, total: number) => void;
}

/** Groups where a lab has no stations of its own: each has the lab as it is given. */
const USUAL_GROUPS = 12;

/**
 * Prepares a lesson: rehearses every station, so that a group can be told at once whether its numbers are plausible.
 *
 * @returns fails where no rehearsal of some station succeeds
 */
export function prepareLesson(pipeline: Pipeline, options: LessonOptions = {}): Outcome<Lesson> {
  const { lab } = pipeline;
  const given = listStations(lab, options.groups === undefined ? {} : { groups: options.groups });
  const stations = given.length > 0 ? given : plainStations(options.groups ?? USUAL_GROUPS);
  // Stations that are given out again have the same values, and are rehearsed once.
  const different = stations.filter(
    (one, index) => stations.findIndex(({ set }) => set === one.set) === index,
  );
  const rehearsed = rehearseClass(pipeline, different, {
    ...(options.rehearsals === undefined ? {} : { rehearsals: options.rehearsals }),
    ...(options.signal === undefined ? {} : { signal: options.signal }),
    ...(options.progress === undefined ? {} : { progress: options.progress }),
  });
  if (!rehearsed.ok) return rehearsed;
  const outlooks = new Map<string, readonly StationOutlook[]>();
  for (const { name, set } of stations)
    outlooks.set(
      name,
      rehearsed.value.stations[different.findIndex((one) => one.set === set)]?.results ?? [],
    );
  const outlookOf = (station: string, result: string) =>
    outlooks.get(station)?.find((outlook) => outlook.result.name === result);
  const setOf = (station: string) => stations.find(({ name }) => name === station)?.set ?? [];
  const needed = resultsNeeded(pipeline, rehearsed.value.example?.stations ?? null);
  const judge = (station: string, number: KeptNumber): Standing => {
    const outlook = outlookOf(station, number.result);
    return outlook === undefined ? 'unknown' : standingOf(number, outlook);
  };
  const { language = 'en' } = options;
  return succeed(
    {
      language,
      words: wordsOf(language),
      lab,
      stations,
      subject: JSON.stringify([
        lab.title,
        lab.results.map(({ name, unit }) => [name, unit.text]),
        stations.map(({ name, set }) => [name, set.map(({ quantity, value }) => [quantity.name, value])]),
      ]),
      judge,
      readTyped: (written) => readTyped(lab, written),
      reduceReadings: (station, file, bytes) => reduceReadings(pipeline, setOf(station), file, bytes),
      workOf(store) {
        const entries = store.entries();
        return store.groups().map((group) => {
          const own = entries
            .filter((entry) => entry.group === group.id)
            .map((entry) => ({
              ...entry,
              judged: entry.numbers.map((number) => ({ ...number, standing: judge(group.station, number) })),
            }));
          const last = new Map(own.flatMap(({ judged }) => judged.map((number) => [number.result, number])));
          return { group, entries: own, last };
        });
      },
      pool(work) {
        const pooling = lab.stations.pooled;
        if (pooling === null) return null;
        const found = work
          .filter(({ group, last }) => !group.aside && needed.every((name) => last.has(name)))
          .map(
            ({ group, last }): StationResults => ({
              set: setOf(group.station),
              values: Float64Array.from(lab.results, ({ name }) => last.get(name)?.value ?? Number.NaN),
              // A number without an uncertainty of its own scatters as its station was rehearsed to.
              uncertainties: Float64Array.from(
                lab.results,
                ({ name }) => last.get(name)?.u ?? outlookOf(group.station, name)?.spread ?? 0,
              ),
            }),
          );
        return { groups: found.length, pooled: poolResults(pipeline, pooling, found, true) };
      },
    },
    rehearsed.warnings,
  );
}

function plainStations(groups: number): readonly StationOfGroup[] {
  const set: StationOfGroup['set'] = [];
  return Array.from({ length: groups }, (_, index) => ({ name: `group ${index + 1}`, set }));
}

/**
 * Inside: in the central 95 % of rehearsals, up to the digits that were written. Near: no further outside than the
 * band is wide. Digits excuse no more than that width, or '1e9' would be inside of everything.
 */
function standingOf({ value, halfStep }: KeptNumber, { low, high }: StationOutlook): Standing {
  const width = high - low;
  if (!Number.isFinite(width) || !Number.isFinite(value)) return 'unknown';
  const slack = Math.min(halfStep, width) + 1e-9 * Math.abs(value);
  if (value >= low - slack && value <= high + slack) return 'inside';
  return value >= low - width - slack && value <= high + width + slack ? 'near' : 'far';
}

/** Results without which nothing can be pooled; all of them where that cannot be told. */
function resultsNeeded(
  { lab, ...pipeline }: Pipeline,
  example: readonly StationResults[] | null,
): readonly string[] {
  const pooling = lab.stations.pooled;
  if (pooling === null || example === null) return lab.results.map(({ name }) => name);
  return lab.results.flatMap(({ name }, index) => {
    const without = example.map((one) => ({
      ...one,
      values: one.values.map((value, place) => (place === index ? Number.NaN : value)),
    }));
    const pooled = poolResults({ lab, ...pipeline }, pooling, without);
    const holds = pooled.ok && pooled.value.results.every(({ value }) => Number.isFinite(value));
    return holds ? [] : [name];
  });
}

function readTyped(lab: Lab, written: ReadonlyMap<string, string>): Outcome<readonly KeptNumber[]> {
  const problems: Problem[] = [];
  const numbers = lab.results.flatMap((result): KeptNumber[] => {
    const text = written.get(result.name)?.trim() ?? '';
    if (text === '') return [];
    const read = readReportedNumber(result, text, null, { step: result.name });
    if (!read.ok) {
      problems.push(...read.problems);
      return [];
    }
    const { value, standardUncertainty } = read.value;
    return [
      { result: result.name, value, u: null, halfStep: Math.sqrt(3) * standardUncertainty, written: text },
    ];
  });
  if (problems.length > 0) return fail(...problems);
  if (numbers.length === 0) return fail(problem('usage', {}, 'No number was entered; enter at least one.'));
  return succeed(numbers);
}

async function reduceReadings(
  pipeline: Pipeline,
  set: StationOfGroup['set'],
  file: string,
  bytes: Uint8Array,
): Promise<Outcome<readonly KeptNumber[]>> {
  const { lab } = pipeline;
  const runs = await readGroupFile(lab, bytes, file);
  if (!runs.ok) return runs;
  const bench = createBench(pipeline, set);
  const taken = runs.value.map((readings) => ({ group: bench.main, readings }));
  const reduced = bench.reduce(taken);
  if (!reduced.ok) return reduced;
  const { values, uncertainties } = reduced.value;
  const numbers = lab.results.flatMap((result, index): KeptNumber[] => {
    if (!Number.isFinite(values[index])) return [];
    const u = uncertainties[index];
    return [
      {
        result: result.name,
        value: values[index],
        u: u > 0 && u < Infinity ? u : null,
        halfStep: 0,
        written: '',
      },
    ];
  });
  if (numbers.length === 0)
    return fail(problem('no-results', { file }, 'The readings give none of the results of this lab.'));
  return succeed(numbers);
}
