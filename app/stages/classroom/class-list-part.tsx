import { useEffect, useMemo, useState } from 'react';
import type { MarkingLanguage } from '../../../src/classroom/index.ts';
import type { Problem } from '../../../src/problem/index.ts';
import { problem } from '../../../src/problem/index.ts';
import { formatNumber } from '../../../src/quantity/index.ts';
import { useLabSource } from '../../bench/use-bench.tsx';
import type { ClassListAnswer } from '../../compute/tasks/class-list.ts';
import { useTask } from '../../compute/use-task.ts';
import { Choice } from '../../parts/choice.tsx';
import { Help } from '../../parts/help.tsx';
import { ProblemList } from '../../parts/problem-list.tsx';
import { Progress } from '../../parts/progress.tsx';
import { scrollsByKeys } from '../../parts/scrolls-by-keys.ts';
import { LANGUAGES } from './languages.ts';
import { type TakenFile, takeFile } from './taken-file.ts';

/** A list of five hundred groups has some tens of kilobytes. */
const MOST_BYTES = 2e6;

/** What all groups of a class reported, from a file, marked line by line. */
export function ClassListPart({
  groups,
  example,
}: {
  readonly groups: number | null;
  /** Headings that a list of this lab has. */
  readonly example: string;
}) {
  const source = useLabSource();
  const [taken, setTaken] = useState<TakenFile | null>(null);
  const [language, setLanguage] = useState<MarkingLanguage>('en');
  const [refused, setRefused] = useState<readonly Problem[]>([]);
  const question = useMemo(
    () => (source === null || taken === null ? null : { source, groups, language, ...taken }),
    [source, groups, language, taken],
  );
  const { answer, problems, isWorking, progress } = useTask('long', 'class list', question);
  const take = async (chosen: File | undefined): Promise<void> => {
    if (chosen === undefined) return;
    const isLarge = chosen.size > MOST_BYTES;
    setRefused(isLarge ? [tooLarge(chosen)] : []);
    setTaken(isLarge ? null : await takeFile(chosen));
  };
  return (
    <section aria-labelledby="list-heading">
      <div className="part-head">
        <h2 id="list-heading">What a whole class reports</h2>
        <Help about="the list">
          <p>
            A text file with a line for each group: a column for its name, one for its station, and one for
            each result, such as “{example}”. A column “u(…)” holds stated uncertainties.
          </p>
          <p>
            The file stays on this computer. In what comes out, a cell that a spreadsheet would run is text.
          </p>
        </Help>
      </div>
      <div className="station-fields">
        <label className="button choose-files">
          Choose a list
          <input
            type="file"
            accept=".csv,.tsv,.txt,text/*"
            className="unseen"
            onChange={(event) => {
              const chosen = event.target.files?.[0];
              void take(chosen);
              // The same file can be chosen again after it was mended.
              event.target.value = '';
            }}
          />
        </label>
        <Choice label="Told in" value={language} options={LANGUAGES} onChoose={setLanguage} />
        {taken === null ? null : <p className="quiet small">{taken.name}</p>}
      </div>
      <Progress progress={progress} isWorking={isWorking} onStop={() => setTaken(null)} />
      <ProblemList problems={[...refused, ...problems]} />
      {answer === null ? null : (
        <MarkedList answer={answer} language={language} isStale={isWorking || taken === null} />
      )}
    </section>
  );
}

function tooLarge({ name, size }: File): Problem {
  const message = `The list has ${formatNumber(size / 1e6, { significant: 2 })} MB; up to ${MOST_BYTES / 1e6} MB are read.`;
  return problem('file-too-large', { file: name }, message, 'Is it a file of readings?');
}

function MarkedList({
  answer,
  language,
  isStale,
}: {
  readonly answer: ClassListAnswer;
  readonly language: MarkingLanguage;
  readonly isStale: boolean;
}) {
  const { lines, unread, csv, page } = answer;
  return (
    <div data-stale={isStale}>
      <p role="status">
        {lines.length} {lines.length === 1 ? 'line' : 'lines'} marked
        {unread === 0 ? '' : `, ${unread} of them could not be read`}.
      </p>
      <div {...scrollsByKeys('The marked list')}>
        <table className="settings-table marked-list">
          <caption className="unseen">The marked list</caption>
          <thead>
            <tr>
              <th scope="col">group</th>
              <th scope="col">station</th>
              <th scope="col">what it looks like</th>
              <th scope="col" className="number">
                share
              </th>
              <th scope="col">what to say</th>
            </tr>
          </thead>
          <tbody>
            {lines.map(({ line, group, station, kind, looksLike, share, says }) => (
              <tr key={line} data-kind={kind}>
                <th scope="row">{group === '' ? `line ${line}` : group}</th>
                <td>{station}</td>
                <td lang={kind === 'unread' ? undefined : language}>{looksLike}</td>
                <td className="number">
                  {kind === 'unread' ? '' : `${formatNumber(100 * share, { decimals: 0 })} %`}
                </td>
                <td lang={kind === 'unread' ? undefined : language}>{says}</td>
              </tr>
            ))}
          </tbody>
        </table>
      </div>
      <p className="station-fields">
        <Kept name="marked.csv" type="text/csv" content={csv}>
          Keep it as CSV
        </Kept>
        <Kept name="marked.html" type="text/html" content={page}>
          Keep it as a page to read or print
        </Kept>
      </p>
    </div>
  );
}

/** A link to something that was made in the page. */
function Kept({
  name,
  type,
  content,
  children,
}: {
  readonly name: string;
  readonly type: string;
  readonly content: string;
  readonly children: string;
}) {
  const [address, setAddress] = useState('');
  useEffect(() => {
    const made = URL.createObjectURL(new Blob([content], { type: `${type};charset=utf-8` }));
    setAddress(made);
    return () => URL.revokeObjectURL(made);
  }, [content, type]);
  return (
    <a className="button plain" href={address} download={name}>
      {children}
    </a>
  );
}
