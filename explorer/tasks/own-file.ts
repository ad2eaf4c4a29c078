import { listAt, recordAt } from '../../app/bench/plain.ts';
import type { LabSource, SourceFile } from '../../app/compute/source.ts';
import type { Task } from '../../app/compute/task.ts';
import { trialFileTask } from '../../app/compute/tasks/trial-file.ts';
import { guessColumns, readColumnMap, writeColumnMap } from '../../app/stages/trials/match-columns.ts';
import { editLabText } from '../../src/edit/index.ts';
import { fail, type Outcome, problem, succeed } from '../../src/problem/index.ts';

export interface OwnFileQuestion {
  readonly source: LabSource;
  readonly file: SourceFile;
  /** As the person knows it, for messages. */
  readonly name: string;
}

export interface OwnFile {
  /** The lab with the runs of the file in place of its own. */
  readonly text: string;
  /** What the file was taken for. */
  readonly sentences: readonly string[];
  readonly runs: number;
}

/** Reads a file of a teacher's own readings, finds the columns, and puts its runs into the lab in place of the lab's. */
export const ownFileTask: Task<OwnFileQuestion, OwnFile> = {
  async run(room, { source, file, name }, report): Promise<Outcome<OwnFile>> {
    const opened = room.openAlone(source);
    if (!opened.ok) return opened;
    const { lab, document } = opened.value;
    const seen = await trialFileTask.run(room, { file, asRead: {} }, report);
    if (!seen.ok) return seen;
    const before = listAt(document.data, ['trials']).map((form) =>
      readColumnMap(recordAt(form, ['reads']), lab.instruments),
    );
    const reads = writeColumnMap(guessColumns(lab.instruments, seen.value.columns, before), lab.instruments);
    if (Object.keys(reads).length === 0) {
      const wanted = lab.instruments
        .flatMap(({ kind, shape }) => kind.rawColumns(shape))
        .map((one) => one.name);
      const there = [...new Set(seen.value.columns.map(({ heading }) => heading))];
      return fail(
        problem(
          'unknown-column',
          { file: name },
          `None of the columns is what this lab reads: there are ${there.join(', ') || 'none'}, wanted is ${wanted.join(' or ')}.`,
          'Head the column with its name and unit.',
        ),
      );
    }
    const { runs } = seen.value;
    const entries = Array.from({ length: runs }, (_, index) => ({
      name: runs === 1 ? 'your run' : `your run ${index + 1}`,
      file: file.path,
      ...(runs === 1 ? {} : { run: index + 1 }),
      reads,
    }));
    const text = editLabText(source.text, [{ kind: 'set', at: ['trials'], to: entries }]);
    return text.ok
      ? succeed({ text: text.value, sentences: seen.value.sentences, runs }, seen.value.notes)
      : text;
  },
};
