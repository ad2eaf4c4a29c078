import {
  classListCsv,
  classListPage,
  explainCause,
  listStations,
  type MarkedLine,
  type MarkingLanguage,
  markList,
  nameCause,
  prepareMarker,
  readClassList,
} from '../../../src/classroom/index.ts';
import { readCells } from '../../../src/lab/index.ts';
import { type Outcome, succeed } from '../../../src/problem/index.ts';
import type { LabSource, SourceFile } from '../source.ts';
import type { Task } from '../task.ts';

export interface ClassListQuestion {
  readonly source: LabSource;
  /** How many groups there are; null for the lab's own number. */
  readonly groups: number | null;
  readonly file: SourceFile;
  /** Of the file, for messages. */
  readonly name: string;
  readonly language: MarkingLanguage;
}

/** One line of the list as it is shown. */
export interface ToldLine {
  readonly line: number;
  readonly group: string;
  readonly station: string;
  readonly kind: 'correct' | 'slip' | 'pair' | 'effect' | 'unknown' | 'unread';
  readonly looksLike: string;
  /** 0 to 1; 0 for a line that could not be read. */
  readonly share: number;
  /** What to say to the group, or what is wrong with the line. */
  readonly says: string;
}

export interface ClassListAnswer {
  readonly lines: readonly ToldLine[];
  readonly unread: number;
  /** The marked list to keep: every formula in it is text. */
  readonly csv: string;
  /** The same as a page that stands alone and runs nothing. */
  readonly page: string;
}

/** A list of what the groups of a class reported, marked line by line. */
export const classListTask: Task<ClassListQuestion, ClassListAnswer> = {
  async run(room, { source, groups, file, name, language }, report): Promise<Outcome<ClassListAnswer>> {
    const opened = room.openAlone(source);
    if (!opened.ok) return opened;
    const { lab, pipeline } = opened.value;
    const bytes = await room.readerOf([file])(file.path);
    if (!bytes.ok) return bytes;
    const cells = readCells(bytes.value, name);
    if (!cells.ok) return cells;
    const stations = listStations(lab, groups === null ? {} : { groups });
    const reports = readClassList(lab, stations, cells.value, name);
    if (!reports.ok) return reports;
    const asked = new Set(reports.value.map(({ station }) => station.toLowerCase()));
    let prepared = 0;
    const marked = markList(reports.value, (set) => {
      const before = prepared;
      prepared += 1;
      return prepareMarker(pipeline, set, {
        language,
        progress: (done, total) =>
          report.progress(before * total + done, asked.size * total, 'rehearsals of all stations'),
      });
    });
    if (!marked.ok) return marked;
    const lines = marked.value.map((line) => tellLine(line, language));
    return succeed(
      {
        lines,
        unread: lines.filter(({ kind }) => kind === 'unread').length,
        csv: classListCsv(lab, marked.value, language),
        page: classListPage(lab, marked.value, language),
      },
      marked.warnings,
    );
  },
};

function tellLine({ report, marked }: MarkedLine, language: MarkingLanguage): ToldLine {
  const { line, group, station, problems } = report;
  const [first] = marked?.causes ?? [];
  if (marked === null || first === undefined) {
    const says = problems.map(({ message, tryThis }) => `${message} ${tryThis ?? ''}`.trim()).join(' ');
    return { line, group, station, kind: 'unread', looksLike: 'not read', share: 0, says };
  }
  return {
    line,
    group,
    station,
    kind: first.cause.kind,
    looksLike: nameCause(first.cause, language),
    share: first.share,
    says: explainCause(first, marked, language),
  };
}
