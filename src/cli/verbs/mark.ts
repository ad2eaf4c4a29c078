import { stat } from 'node:fs/promises';
import { relative, resolve } from 'node:path';
import { Option } from 'commander';
import * as z from 'zod';
import {
  classListCsv,
  classListPage,
  findResult,
  findStation,
  listStations,
  type MarkedLine,
  type Marker,
  markList,
  markReport,
  prepareMarker,
  type ReportedNumber,
  readClassList,
  readGroupFile,
  readReportedNumber,
  type StationOfGroup,
  type TakenRuns,
} from '../../classroom/index.ts';
import { refusal, Stopped, speakLab, writeWholeFolder } from '../../files/index.ts';
import { createPipeline, type Lab, type Pipeline, readCells, type Setting } from '../../lab/index.ts';
import { fail, type Outcome, type Problem, problem, succeed } from '../../problem/index.ts';
import type { Desk } from '../desk.ts';
import { readAnyFile } from '../files/any-file.ts';
import { markToJson } from '../json/mark-json.ts';
import { type OpenLab, openLab } from '../open-lab.ts';
import {
  findKits,
  gather,
  readSettings,
  takeKits,
  takeLab,
  takeSeed,
  takeSettings,
  wholeNumber,
} from '../options.ts';
import { printMark, printMarkedList } from '../print/mark-text.ts';
import type { Report, Verb } from '../verb.ts';

const optionsForm = z.object({
  reported: z.array(z.string()),
  u: z.array(z.string()),
  station: z.string(),
  data: z.string().optional(),
  list: z.string().optional(),
  out: z.string().optional(),
  groups: z.number().optional(),
  rehearsals: z.number().optional(),
  language: z.enum(['en', 'de']),
  kit: z.array(z.string()),
  set: z.array(z.string()),
  seed: z.number(),
});

type Options = z.infer<typeof optionsForm>;

export const markVerb: Verb = {
  name: 'mark',
  what: 'Say what would produce the numbers that a group reports: which slip, which effect, or nothing known.',
  example: 'benchwright mark labs/tow-chain --reported k2=9.1 --station B',
  declare(command) {
    takeLab(command);
    takeSettings(command);
    takeKits(command);
    takeSeed(command);
    command
      .option(
        '--reported <RESULT=VALUE>',
        'a reported number, in the unit of the result or with its own (repeatable)',
        gather,
        [],
      )
      .option('--u <RESULT=VALUE>', 'its standard uncertainty, where one is stated (repeatable)', gather, [])
      .option('--station <NAME>', 'the station it was found at; the lab as given where left out', '')
      .option('--data <FILE>', "the group's own readings")
      .option('--list <FILE>', 'a class list: delimited text with a line for each group')
      .option('--out <DIR>', 'write the marked list here, as marked.csv and marked.html')
      .option(
        '--groups <N>',
        'how many groups there are, where stations are drawn',
        wholeNumber('--groups', 1, 500),
      )
      .option(
        '--rehearsals <N>',
        'how often each prediction is rehearsed',
        wholeNumber('--rehearsals', 8, 100_000),
      )
      .addOption(
        new Option('--language <TAG>', 'language in which slips are told, and of what --out writes')
          .choices(['en', 'de'])
          .default('en'),
      );
  },
  async run(desk: Desk, [where], given): Promise<Outcome<Report>> {
    const options = optionsForm.parse(given);
    const opened = await openLab(desk, where);
    if (!opened.ok) return opened;
    const open = options.language === 'en' ? opened : await speakLab(opened.value, options.language);
    if (!open.ok) return open;
    const setUp = setUpLab(open.value, options);
    if (!setUp.ok) return setUp;
    const isList = options.list !== undefined;
    if (isList === options.reported.length > 0)
      return usage(
        'mark takes either --reported numbers or a --list of them.',
        'For example: --reported k2=2.31',
      );
    const answer = isList
      ? await markWholeList(desk, open.value, setUp.value, options)
      : await markOne(desk, open.value, setUp.value, options);
    desk.progress.clear();
    if (!answer.ok) return answer;
    return succeed({ ...answer.value, notes: [...opened.warnings, ...answer.warnings] });
  },
};

type Answer = Pick<Report, 'json' | 'print' | 'problems'>;

interface SetUp {
  readonly pipeline: Pipeline;
  readonly lab: Lab;
  readonly fixed: readonly Setting[];
  readonly stations: readonly StationOfGroup[];
  readonly kits: readonly string[];
}

function setUpLab(open: OpenLab, options: Options): Outcome<SetUp> {
  const kits = findKits(open.lab, options.kit);
  if (!kits.ok) return kits;
  const equipped = kits.value.length === 0 ? succeed(open.lab) : open.lab.equip(kits.value);
  if (!equipped.ok) return equipped;
  const lab = equipped.value;
  const fixed = readSettings(lab, options.set);
  if (!fixed.ok) return fixed;
  return succeed({
    lab,
    pipeline: kits.value.length === 0 ? open.pipeline : createPipeline(lab),
    fixed: fixed.value,
    stations: listStations(lab, options.groups === undefined ? {} : { groups: options.groups }),
    kits: kits.value.map(({ name }) => name),
  });
}

async function markOne(desk: Desk, open: OpenLab, setUp: SetUp, options: Options): Promise<Outcome<Answer>> {
  const { lab, pipeline, fixed, stations } = setUp;
  const numbers = readNumbers(lab, options);
  if (!numbers.ok) return numbers;
  const station = findStation(stations, options.station, { step: `--station ${options.station}` });
  if (!station.ok) return station;
  const set = [...fixed, ...station.value];
  const data = options.data === undefined ? succeed(null) : await readData(desk, open, lab, options.data);
  if (!data.ok) return data;
  const marker = prepare(desk, pipeline, set, options);
  if (!marker.ok) return marker;
  const runs = data.value?.map((own) => ({ ...own, group: marker.value.bench.main })) ?? null;
  const marked = markReport(marker.value, numbers.value, runs);
  if (!marked.ok)
    return options.data === undefined
      ? marked
      : fail(
          ...marked.problems.map((found) => ({
            ...found,
            place: { ...found.place, file: seenFromLab(desk, open, options.data ?? '') },
          })),
        );
  return succeed(
    {
      json: markToJson(
        open,
        { station: options.station, set, kits: setUp.kits, seed: options.seed },
        { report: marked.value },
        options.language,
      ),
      print: (page) => printMark(page, lab, options.station, marked.value, options.language),
    },
    [...data.warnings, ...marker.value.warnings],
  );
}

async function markWholeList(
  desk: Desk,
  open: OpenLab,
  setUp: SetUp,
  options: Options,
): Promise<Outcome<Answer>> {
  const { lab, pipeline, fixed, stations } = setUp;
  const written = options.list ?? '';
  const file = seenFromLab(desk, open, written);
  if (options.data !== undefined || options.u.length > 0)
    return usage('--data and --u go with --reported; a list has a column "u(RESULT)" for uncertainties.');
  const bytes = await readAnyFile(written, desk.environment.folder);
  if (!bytes.ok) return bytes;
  const cells = readCells(bytes.value, file);
  if (!cells.ok) return cells;
  const reports = readClassList(lab, stations, cells.value, file);
  if (!reports.ok) return reports;
  const marked = markList(reports.value, (set) => prepare(desk, pipeline, [...fixed, ...set], options));
  if (!marked.ok) return marked;
  const lines = marked.value;
  const set = await writeList(desk, lab, lines, options);
  if (!set.ok) return set;
  return succeed(
    {
      json: markToJson(
        open,
        { station: '', set: fixed, kits: setUp.kits, seed: options.seed },
        { list: lines, written: set.value },
        options.language,
      ),
      print: (page) =>
        printMarkedList(
          page,
          lab,
          lines,
          set.value === null ? null : (options.out ?? null),
          options.language,
        ),
      problems: lines.flatMap(({ report }) => report.problems),
    },
    marked.warnings,
  );
}

async function writeList(
  desk: Desk,
  lab: Lab,
  lines: readonly MarkedLine[],
  { out, language }: Pick<Options, 'out' | 'language'>,
): Promise<Outcome<string | null>> {
  if (out === undefined) return succeed(null);
  const path = resolve(desk.environment.folder, out);
  const isThere = await stat(path).catch(() => null);
  if (isThere !== null) {
    const message = `"${out}" is there already, and what is in it may be somebody's work.`;
    return fail(problem('not-writable', { file: out }, message, 'Name a folder that is not there yet.'));
  }
  try {
    await writeWholeFolder(
      path,
      [
        { name: 'marked.csv', content: classListCsv(lab, lines, language) },
        { name: 'marked.html', content: classListPage(lab, lines, language) },
      ],
      { signal: desk.environment.signal },
    );
    return succeed(path);
  } catch (error) {
    if (error instanceof Stopped) throw error;
    return fail(refusal(error, out, 'written'));
  }
}

function prepare(desk: Desk, pipeline: Pipeline, set: readonly Setting[], options: Options): Outcome<Marker> {
  return prepareMarker(pipeline, set, {
    language: options.language,
    seed: options.seed,
    ...(options.rehearsals === undefined ? {} : { rehearsals: options.rehearsals }),
    signal: desk.environment.signal,
    progress: (done, total) => desk.progress.show('rehearsing slips', done, total),
  });
}

async function readData(desk: Desk, open: OpenLab, lab: Lab, written: string): Promise<Outcome<TakenRuns>> {
  const bytes = await readAnyFile(written, desk.environment.folder);
  if (!bytes.ok) return bytes;
  const runs = await readGroupFile(
    lab,
    bytes.value,
    seenFromLab(desk, open, written),
    desk.environment.signal,
  );
  return runs.ok
    ? succeed(
        runs.value.map((readings) => ({ group: 0, readings })),
        runs.warnings,
      )
    : runs;
}

/** Places in messages are told from the lab's folder. */
function seenFromLab(desk: Desk, { folder }: OpenLab, written: string): string {
  return relative(folder.path, resolve(desk.environment.folder, written));
}

/** '--reported k2=2.31', '--u k2=0.02'. */
function readNumbers(lab: Lab, { reported, u }: Options): Outcome<readonly ReportedNumber[]> {
  const problems: Problem[] = [];
  const uncertainties = new Map<string, string>();
  for (const text of u) {
    const [name, value] = splitAtEquals(text);
    if (reported.some((other) => splitAtEquals(other)[0] === name)) uncertainties.set(name, value);
    else
      problems.push(
        problem('usage', { step: `--u ${text}` }, `"${name}" has an uncertainty and no --reported value.`),
      );
  }
  const numbers = reported.flatMap((text): ReportedNumber[] => {
    const place = { step: `--reported ${text}` };
    const [name, value] = splitAtEquals(text);
    if (value === '') {
      problems.push(
        problem('usage', place, 'A reported number is a result, "=", and its value.', 'For example: k2=2.31'),
      );
      return [];
    }
    const result = findResult(lab, name, place);
    if (!result.ok) {
      problems.push(...result.problems.map((found) => ({ ...found, code: 'usage' })));
      return [];
    }
    const number = readReportedNumber(result.value, value, uncertainties.get(name) ?? null, place);
    if (!number.ok) problems.push(...number.problems.map((found) => ({ ...found, code: 'usage' })));
    return number.ok ? [number.value] : [];
  });
  const names = numbers.map(({ result }) => result.name);
  if (new Set(names).size < names.length)
    problems.push(problem('usage', {}, 'A result was reported twice; one number each.'));
  return problems.length > 0 ? fail(...problems) : succeed(numbers);
}

function splitAtEquals(text: string): readonly [string, string] {
  const at = text.indexOf('=');
  return at < 0 ? [text.trim(), ''] : [text.slice(0, at).trim(), text.slice(at + 1).trim()];
}

function usage(message: string, advice?: string) {
  return fail(problem('usage', {}, message, advice));
}
