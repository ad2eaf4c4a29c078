import { useId, useMemo, useState } from 'react';
import { useLabSource } from '../../bench/use-bench.tsx';
import type { ExpectedOfClass, StationsAnswer } from '../../compute/tasks/stations.ts';
import { useTask } from '../../compute/use-task.ts';
import { ProblemList } from '../../parts/problem-list.tsx';
import { Progress } from '../../parts/progress.tsx';
import { SymbolName } from '../../parts/rich.tsx';
import { scrollsByKeys } from '../../parts/scrolls-by-keys.ts';

/** What each station and the class together will find, rehearsed for a number of groups. */
export function ExpectedPart({
  groups,
  own,
  typed,
  onType,
}: {
  /** Null for as many as the lab has. */
  readonly groups: number | null;
  readonly own: number;
  readonly typed: string;
  readonly onType: (text: string) => void;
}) {
  const source = useLabSource();
  const id = useId();
  const [isStopped, setStopped] = useState(false);
  const question = useMemo(
    () => (source === null || isStopped ? null : { source, groups }),
    [source, groups, isStopped],
  );
  const { answer, problems, isWorking, progress } = useTask('long', 'stations', question);
  return (
    <section aria-labelledby="expected-heading">
      <h2 id="expected-heading">What each group will find</h2>
      <div className="draft-field groups-field">
        <label htmlFor={id} className="said">
          How many groups there are
        </label>
        <input
          id={id}
          className="field short"
          inputMode="numeric"
          autoComplete="off"
          placeholder={String(own)}
          value={typed}
          aria-invalid={typed.trim() !== '' && groups === null}
          onChange={(event) => onType(event.target.value)}
        />
        {typed.trim() === '' || groups !== null ? null : (
          <p className="small">“{typed}” is no number of groups; a whole number from 1 to 500 is.</p>
        )}
      </div>
      <Progress progress={progress} isWorking={isWorking} onStop={() => setStopped(true)} />
      {isStopped ? (
        <p className="quiet">
          Stopped.{' '}
          <button type="button" className="button plain small" onClick={() => setStopped(false)}>
            Go on
          </button>
        </p>
      ) : null}
      <ProblemList problems={problems} />
      {answer === null ? null : <Expected answer={answer} isStale={isWorking || isStopped} />}
    </section>
  );
}

function Expected({ answer, isStale }: { readonly answer: StationsAnswer; readonly isStale: boolean }) {
  return (
    <div data-stale={isStale}>
      <div {...scrollsByKeys('What each station will find')}>
        <table className="settings-table">
          <caption className="unseen">What each station is expected to find</caption>
          <thead>
            <tr>
              <th scope="col">station</th>
              <th scope="col">values</th>
              <th scope="col">result</th>
              <th scope="col" className="number">
                expected
              </th>
              <th scope="col" className="number">
                95 % of groups
              </th>
              <th scope="col" className="number">
                theory
              </th>
            </tr>
          </thead>
          <tbody>
            {answer.stations.flatMap(({ name, values, results }) =>
              results.map((result, index) => (
                <tr key={`${name} ${result.name}`}>
                  <th scope="row">{name}</th>
                  <td>{index === 0 ? values : ''}</td>
                  <td>
                    <SymbolName name={result.name} />
                  </td>
                  <td className="number">{result.expected}</td>
                  <td className="number">{result.band}</td>
                  <td className="number">{result.theory ?? '–'}</td>
                </tr>
              )),
            )}
          </tbody>
        </table>
      </div>
      <h3>What the class finds together</h3>
      {answer.pooled.length === 0 ? (
        <p className="quiet">The lab does not say what the stations find together.</p>
      ) : (
        <ul className="told">
          {answer.pooled.map((pooled) => (
            <Together key={pooled.name} pooled={pooled} />
          ))}
        </ul>
      )}
      <p className="quiet small">
        {answer.rehearsals} classes rehearsed, every station with an apparatus of its own within the
        uncertainties.
        {answer.firstFailure === null
          ? ''
          : ` Some rehearsals failed, the first because: ${answer.firstFailure}`}
      </p>
    </div>
  );
}

function Together({ pooled }: { readonly pooled: ExpectedOfClass }) {
  const { name, is, groups, expected, band, theory, stated, coverage } = pooled;
  return (
    <li>
      <SymbolName name={name} />, {is}: {expected} with {groups} {groups === 1 ? 'group' : 'groups'}; 95 % of
      classes find {band}
      {theory === null ? '' : `; theory says ${theory}`}.
      {stated === null ? '' : ` The class itself would state u = ${stated}`}
      {stated === null
        ? ''
        : coverage === null
          ? '.'
          : `; ${coverage} of their 95 % intervals hold the theory.`}
    </li>
  );
}
