import { describeRecognition, type Overrule, readTrial, type TableColumn } from '../../../src/lab/index.ts';
import type { Outcome, Problem } from '../../../src/problem/index.ts';
import { succeed } from '../../../src/problem/index.ts';
import { type Dimension, formatNumber, formatUnit } from '../../../src/quantity/index.ts';
import type { SourceFile } from '../source.ts';
import type { Task } from '../task.ts';

export interface TrialFileQuestion {
  readonly file: SourceFile;
  /** What the lab file tells instead of letting it be detected. */
  readonly asRead: Overrule;
}

/** A column of numbers, as a person who checks the file wants to see it. */
export interface SeenColumn {
  readonly heading: string;
  readonly name: string;
  readonly run: number;
  /** Which column of the file, from 1. */
  readonly position: number;
  /** As printed; null where the file names none. */
  readonly unit: string | null;
  readonly dimension: Dimension | null;
  readonly readings: number;
  /** The first few values, as printed. */
  readonly begins: string;
  /** Cells that are no numbers. */
  readonly bad: number;
}

/** What a file of readings was taken for. */
export interface SeenFile {
  /** The sentences of the command line. */
  readonly sentences: readonly string[];
  readonly columns: readonly SeenColumn[];
  readonly runs: number;
  readonly runLabels: readonly string[];
  readonly wordColumns: readonly string[];
  readonly notes: readonly Problem[];
}

/** How many values show what a column holds. */
const SHOWN_VALUES = 4;

/** Reads one file of readings and says what it was taken for, whether or not the lab uses it. */
export const trialFileTask: Task<TrialFileQuestion, SeenFile> = {
  async run(room, { file, asRead }): Promise<Outcome<SeenFile>> {
    const bytes = await room.readerOf([file])(file.path);
    if (!bytes.ok) return bytes;
    const table = await readTrial(bytes.value, { file: file.path, overrule: asRead });
    if (!table.ok) return table;
    const { recognised, columns, notes } = table.value;
    return succeed({
      sentences: describeRecognition(recognised),
      columns: columns.map(seeColumn),
      runs: recognised.runs,
      runLabels: recognised.runLabels,
      wordColumns: [...new Set(recognised.textColumns.map(({ heading }) => heading))],
      notes,
    });
  },
};

function seeColumn({ heading, name, run, position, unit, values, notNumbers }: TableColumn): SeenColumn {
  const present = values.filter((value) => !Number.isNaN(value));
  const first = Array.from(present.slice(0, SHOWN_VALUES), (value) =>
    formatNumber(value, { significant: 6 }),
  );
  return {
    heading,
    name,
    run,
    position,
    unit: unit === null ? null : formatUnit(unit),
    dimension: unit?.dimension ?? null,
    readings: present.length,
    begins: present.length > first.length ? `${first.join(', ')}, …` : first.join(', '),
    bad: notNumbers.count,
  };
}
