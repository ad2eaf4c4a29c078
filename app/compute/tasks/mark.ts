import {
  explainCause,
  findResult,
  findStation,
  listStations,
  type Marker,
  type MarkingLanguage,
  markReport,
  nameCause,
  prepareMarker,
  type RankedCause,
  readGroupFile,
  readReportedNumber,
  sayBand,
  sayFromData,
} from '../../../src/classroom/index.ts';
import type { Lab, Pipeline } from '../../../src/lab/index.ts';
import { fail, type Outcome, problem, succeed } from '../../../src/problem/index.ts';
import { formatNumber, fromSI } from '../../../src/quantity/index.ts';
import type { Room } from '../room.ts';
import type { LabSource, SourceFile } from '../source.ts';
import type { Task } from '../task.ts';

export interface MarkQuestion {
  readonly source: LabSource;
  /** '' for the lab as given. */
  readonly station: string;
  /** How many groups there are, for drawn stations and those given out again; null for the lab's own number. */
  readonly groups: number | null;
  /** As a group reports them: a result, and its value with or without a unit. */
  readonly reported: readonly {
    readonly result: string;
    readonly value: string;
    /** Standard uncertainty that the group states; '' for none. */
    readonly u?: string;
  }[];
  /** The group's own readings, with the name that messages give them; null or left out where there are none. */
  readonly data?: { readonly file: SourceFile; readonly name: string } | null;
  /** In which it is answered; English where left out. */
  readonly language?: MarkingLanguage;
}

/** One thing that would give the reported numbers. */
export interface ToldCause {
  readonly name: string;
  readonly kind: 'correct' | 'slip' | 'pair' | 'effect' | 'unknown';
  /** Of all that is considered how much speaks for it, 0 to 1. */
  readonly share: number;
  readonly gives: string;
  /** The sentence that helps. */
  readonly helps: string;
}

export interface MarkAnswer {
  readonly causes: readonly ToldCause[];
  /** Where each number lies, in a sentence. */
  readonly bands: readonly { readonly says: string; readonly isWithin: boolean }[];
  /** What the group's own readings give when they are reduced as they should be; '' without readings. */
  readonly fromData: string;
}

/** Causes with less are not worth a reader's time, and no more than this many. */
const LEAST_SHARE = 0.01;
const MOST_CAUSES = 6;

/** The last marker: the next number of the same station then needs no rehearsals. */
let kept: { readonly pipeline: Pipeline; readonly station: string; readonly marker: Marker } | null = null;

/** What would produce the numbers that a group reports. */
export const markTask: Task<MarkQuestion, MarkAnswer> = {
  async run(
    room,
    { source, station, groups, reported, data = null, language = 'en' },
    report,
  ): Promise<Outcome<MarkAnswer>> {
    const opened = room.openAlone(source);
    if (!opened.ok) return opened;
    const { lab, pipeline } = opened.value;
    const read = reported.map(({ result, value, u = '' }) => {
      const found = findResult(lab, result, {});
      return found.ok ? readReportedNumber(found.value, value, u.trim() === '' ? null : u, {}) : found;
    });
    const problems = read.flatMap((one) => (one.ok ? [] : one.problems));
    if (problems.length > 0) return fail(...problems);
    const numbers = read.flatMap((one) => (one.ok ? [one.value] : []));
    if (numbers.length === 0)
      return fail(problem('usage', {}, 'Nothing is reported yet.', 'Enter at least one result.'));
    const stations = listStations(lab, groups === null ? {} : { groups });
    const set = findStation(stations, station, {});
    if (!set.ok) return set;
    const key = JSON.stringify([language, set.value.map(({ quantity, value }) => [quantity.name, value])]);
    const prepared =
      kept?.pipeline === pipeline && kept.station === key
        ? succeed(kept.marker)
        : prepareMarker(pipeline, set.value, {
            language,
            progress: (done, total) => report.progress(done, total, 'rehearsals'),
          });
    if (!prepared.ok) return prepared;
    kept = { pipeline, station: key, marker: prepared.value };
    const runs = data === null ? succeed(null) : await runsOf(room, lab, data);
    if (!runs.ok) return runs;
    const { main } = prepared.value.bench;
    const taken = runs.value?.map((readings) => ({ group: main, readings })) ?? null;
    const marked = markReport(prepared.value, numbers, taken);
    if (!marked.ok) return marked;
    const { causes, bands, fromData } = marked.value;
    const worth = causes.filter(({ share }, index) => index === 0 || share >= LEAST_SHARE);
    const say = (index: number, si: number): string => {
      const unit = numbers[index]?.result.unit;
      const decimalMark = language === 'de' ? ',' : '.';
      return unit === undefined
        ? ''
        : formatNumber(fromSI(si, unit, 'point'), { significant: 4, decimalMark });
    };
    const sayGives = ({ cause, gives }: RankedCause): string =>
      cause.kind === 'unknown'
        ? ''
        : gives.map((si, index) => `${numbers[index]?.result.name ?? ''} = ${say(index, si)}`).join(', ');
    return succeed(
      {
        causes: worth.slice(0, MOST_CAUSES).map((ranked) => ({
          name: nameCause(ranked.cause, language),
          kind: ranked.cause.kind,
          share: ranked.share,
          gives: sayGives(ranked),
          helps: explainCause(ranked, marked.value, language),
        })),
        bands: bands.map((band, index) => {
          const result = numbers[index]?.result;
          const says = result === undefined ? '' : sayBand(result, band, language);
          return { says, isWithin: band.isWithin };
        }),
        fromData: fromData === null ? '' : sayFromData(numbers, fromData, language),
      },
      [...prepared.warnings, ...prepared.value.warnings, ...runs.warnings],
    );
  },
};

async function runsOf(room: Room, lab: Lab, { file, name }: NonNullable<MarkQuestion['data']>) {
  const bytes = await room.readerOf([file])(file.path);
  return bytes.ok ? readGroupFile(lab, bytes.value, name) : bytes;
}
