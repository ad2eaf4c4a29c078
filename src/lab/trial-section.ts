import type { Outcome, Place, Problem } from '../problem/index.ts';
import { fail, nearestName, problem, succeed } from '../problem/index.ts';
import { type CountedPart, readCountedPart } from './counted-part.ts';
import type { LabDocument, Path } from './document.ts';
import { readSettings, type Setting } from './effect-section.ts';
import type { TrialForm } from './form.ts';
import type { LabInstrument } from './instrument-section.ts';
import type { Quantities } from './quantity-section.ts';
import type { Overrule } from './trial/index.ts';

/** One real run, as the lab file names it: where its readings stand and under which settings they were taken. */
export interface TrialEntry {
  readonly name: string;
  readonly file: string;
  readonly run: number | undefined;
  readonly when: readonly Setting[];
  /** For each instrument read, the heading of the file's column for each raw column. */
  readonly reads: readonly {
    readonly instrument: LabInstrument;
    readonly columns: ReadonlyMap<string, string>;
  }[];
  readonly asRead: Overrule;
  /** The part of the run that counts; null where all of it does. */
  readonly counts: CountedPart | null;
  /** The reason why the run is not used, or null. */
  readonly setAside: string | null;
  readonly place: Place;
}

/** Reads the list of trials; the files themselves are read elsewhere. */
export function readTrials(
  forms: readonly TrialForm[],
  instruments: readonly LabInstrument[],
  quantities: Quantities,
  document: LabDocument,
): Outcome<readonly TrialEntry[]> {
  const problems: Problem[] = [];
  const trials: TrialEntry[] = [];
  forms.forEach((form, index) => {
    const path: Path = ['trials', index];
    if (leavesTheFolder(form.file)) {
      problems.push(
        problem(
          'outside-the-lab',
          document.placeOf([...path, 'file']),
          `"${form.file}" lies outside the lab folder; trial files stand inside it.`,
          'Copy the file into trials/.',
        ),
      );
    }
    const when = readSettings(form.when ?? {}, [...path, 'when'], quantities, document, 'when');
    const reads = readColumns(form.reads, instruments, path, document);
    const counts = readCountedPart(form.counts, [...path, 'counts'], document);
    if (!when.ok) problems.push(...when.problems);
    if (!reads.ok) problems.push(...reads.problems);
    if (!counts.ok) problems.push(...counts.problems);
    if (!when.ok || !reads.ok || !counts.ok) return;
    trials.push({
      name: form.name ?? defaultName(form),
      file: form.file,
      run: form.run,
      when: when.value,
      reads: reads.value,
      asRead: overruleOf(form),
      counts: counts.value,
      setAside: form['set aside'] ?? null,
      place: document.placeOf(path),
    });
  });
  return problems.length > 0 ? fail(...problems) : succeed(trials);
}

function readColumns(
  forms: TrialForm['reads'],
  instruments: readonly LabInstrument[],
  path: Path,
  document: LabDocument,
): Outcome<TrialEntry['reads']> {
  const problems: Problem[] = [];
  const reads: TrialEntry['reads'][number][] = [];
  for (const [name, written] of Object.entries(forms)) {
    const instrument = instruments.find((candidate) => candidate.name === name);
    const place = document.placeOfKey([...path, 'reads', name]);
    if (instrument === undefined) {
      const known = instruments.map((candidate) => candidate.name);
      const near = nearestName(name, known);
      problems.push(
        problem(
          'unknown-instrument',
          place,
          `"${name}" is not an instrument of this lab.`,
          near === undefined
            ? `The instruments are ${known.join(', ') || 'none yet'}.`
            : `Did you mean "${near}"?`,
        ),
      );
      continue;
    }
    const raw = instrument.kind.rawColumns(instrument.shape).map((column) => column.name);
    const columns = new Map<string, string>();
    if (typeof written === 'string') {
      columns.set(instrument.kind.mainColumn, written);
    } else {
      for (const [column, heading] of Object.entries(written)) {
        if (raw.includes(column)) {
          columns.set(column, heading);
          continue;
        }
        problems.push(
          problem(
            'unknown-column',
            document.placeOfKey([...path, 'reads', name, column]),
            `"${column}" is not a column of the readings of "${name}".`,
            `${raw.length === 1 ? 'It has' : 'They are'} ${raw.join(', ')}.`,
          ),
        );
      }
    }
    reads.push({ instrument, columns });
  }
  return problems.length > 0 ? fail(...problems) : succeed(reads);
}

function overruleOf(form: TrialForm): Overrule {
  const asRead = form['as read'];
  return {
    ...(asRead?.delimiter === undefined ? {} : { delimiter: asRead.delimiter }),
    ...(asRead?.['decimal mark'] === undefined ? {} : { decimalMark: asRead['decimal mark'] }),
    ...(asRead?.encoding === undefined ? {} : { encoding: asRead.encoding }),
    ...(asRead?.['header rows'] === undefined ? {} : { headerRows: asRead['header rows'] }),
    ...(asRead?.['first row'] === undefined ? {} : { firstRow: asRead['first row'] }),
    ...(asRead?.['last row'] === undefined ? {} : { lastRow: asRead['last row'] }),
    ...(asRead?.units === undefined ? {} : { units: asRead.units }),
    ...(form.sheet === undefined ? {} : { sheet: form.sheet }),
  };
}

/** File names stay inside the lab folder: no absolute path, no drive, no way up. */
function leavesTheFolder(file: string): boolean {
  return /^([/\\]|[a-zA-Z]:)/.test(file) || file.includes('\0') || file.split(/[/\\]/).includes('..');
}

function defaultName(form: TrialForm): string {
  const bare = form.file.replace(/^.*[/\\]/, '').replace(/\.[^.]*$/, '');
  return form.run === undefined ? bare : `${bare}, run ${form.run}`;
}
