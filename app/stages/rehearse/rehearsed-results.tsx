import { useState } from 'react';
import type { RehearseAnswer, RehearsedResult } from '../../compute/tasks/rehearse.ts';
import { FigureView } from '../../figure/figure-view.tsx';
import { Choice } from '../../parts/choice.tsx';
import { SymbolName } from '../../parts/rich.tsx';
import { scrollsByKeys } from '../../parts/scrolls-by-keys.ts';

/** Below so many scatters an effect cannot be told from chance; common practice, no source. */
const SEEN = 3;

/** Mean and scatter of each result over the rehearsals, whether a class would see the gap to theory, and the histogram. */
export function RehearsedResults({
  answer,
  isStale,
}: {
  readonly answer: RehearseAnswer;
  readonly isStale: boolean;
}) {
  const [chosen, setChosen] = useState('0');
  const shown = answer.results[Number(chosen)] ?? answer.results[0];
  if (shown === undefined) return <p className="quiet">The lab names no results yet.</p>;
  const hasRuns = answer.results.some(({ singleRun }) => singleRun !== null);
  const hasReported = answer.results.some(({ reported }) => reported !== null);
  return (
    <div data-stale={isStale}>
      <div {...scrollsByKeys('The results')}>
        <table className="settings-table rehearsed-table">
          <thead>
            <tr>
              <th scope="col">result</th>
              <th scope="col">setting</th>
              <th scope="col" className="number">
                {answer.runs === 1 ? 'one run' : `mean of ${answer.runs} runs`}
              </th>
              <th scope="col" className="number">
                95 % of rehearsals
              </th>
              {hasRuns ? (
                <th scope="col" className="number">
                  scatter of a run
                </th>
              ) : null}
              {hasReported ? (
                <th scope="col" className="number">
                  u that a run states
                </th>
              ) : null}
            </tr>
          </thead>
          <tbody>
            {answer.results.map((result) => (
              <tr key={`${result.name} ${result.group}`}>
                <th scope="row">
                  <SymbolName name={result.name} />
                </th>
                <td>{result.group}</td>
                <td className="number">{result.mean}</td>
                <td className="number">{result.limits}</td>
                {hasRuns ? <td className="number">{result.singleRun ?? '–'}</td> : null}
                {hasReported ? <td className="number">{result.reported ?? '–'}</td> : null}
              </tr>
            ))}
          </tbody>
        </table>
      </div>
      <ul className="worth">
        {answer.results.map((result) => (
          <Worth key={`${result.name} ${result.group}`} result={result} runs={answer.runs} />
        ))}
      </ul>
      {answer.failed > 0 ? (
        <p className="small">
          {answer.failed} rehearsals gave no result and are not counted
          {answer.firstFailure === null ? '.' : `, the first because: ${answer.firstFailure}`}
        </p>
      ) : null}
      {answer.results.length > 1 ? (
        <div className="rehearse-choices">
          <Choice
            label="In the picture"
            value={chosen}
            options={answer.results.map(({ name, group }, index) => ({
              value: String(index),
              says: group === '' ? name : `${name}, ${group}`,
            }))}
            onChoose={setChosen}
          />
        </div>
      ) : null}
      <FigureView figure={shown.figure} ratio={0.5} isStale={isStale} />
    </div>
  );
}

/** Whether the measurement can show what the lab is about: the gap to theory against the scatter. */
function Worth({ result, runs }: { readonly result: RehearsedResult; readonly runs: number }) {
  if (result.gap === null) return null;
  const { percent, inScatters } = result.gap;
  const times = inScatters >= 10 ? Math.round(inScatters).toString() : inScatters.toFixed(1);
  const what = runs === 1 ? 'of a run' : `of a mean of ${runs} runs`;
  const isSeen = inScatters >= SEEN;
  return (
    <li data-verdict={isSeen ? 'explained' : 'doubtful'}>
      <SymbolName name={result.name} />
      {result.group === '' ? '' : `, ${result.group}`}: the effects move it {percent.replace('-', '−')} % away
      from theory, {times} times the scatter {what}
      {isSeen ? '; a class will see it.' : '; noise alone hides it.'}
    </li>
  );
}
