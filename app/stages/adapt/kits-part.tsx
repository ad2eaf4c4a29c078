import { useMemo, useState } from 'react';
import { useLabSource } from '../../bench/use-bench.tsx';
import type { JudgedKit, KitsAnswer } from '../../compute/tasks/kits.ts';
import { useTask } from '../../compute/use-task.ts';
import { FigureView } from '../../figure/figure-view.tsx';
import { Help } from '../../parts/help.tsx';
import { ProblemList } from '../../parts/problem-list.tsx';
import { Progress } from '../../parts/progress.tsx';
import { SymbolName } from '../../parts/rich.tsx';
import { scrollsByKeys } from '../../parts/scrolls-by-keys.ts';

/** What is expected with each set of equipment, and how well it will do. */
export function KitsPart() {
  const source = useLabSource();
  const [isStopped, setStopped] = useState(false);
  const question = useMemo(() => (source === null || isStopped ? null : { source }), [source, isStopped]);
  const { answer, problems, isWorking, progress } = useTask('long', 'kits', question);
  return (
    <section aria-labelledby="kits-heading">
      <div className="part-head">
        <h2 id="kits-heading">The kits, judged</h2>
        <Help about="the judgement">
          <p>
            Each set of equipment is rehearsed with the plan of the lab, every time with another apparatus
            within its uncertainties. ± is the scatter from one set-up to the next.
          </p>
          <p>
            The gravest reason decides: too few readings in the window, a result that scatters, a gap to
            theory that is too large to explain, a model that ends early, or a hazard that the lab as given
            does not have.
          </p>
        </Help>
      </div>
      <Progress progress={progress} isWorking={isWorking} onStop={() => setStopped(true)} />
      {isStopped ? (
        <p className="quiet">
          Stopped.{answer === null ? '' : ' What stands below is older.'}{' '}
          <button type="button" className="button plain small" onClick={() => setStopped(false)}>
            Go on
          </button>
        </p>
      ) : null}
      <ProblemList problems={problems} />
      {answer === null ? null : <Judged answer={answer} isStale={isWorking || isStopped} />}
    </section>
  );
}

function Judged({ answer, isStale }: { readonly answer: KitsAnswer; readonly isStale: boolean }) {
  return (
    <div data-stale={isStale}>
      {answer.kits.length > 1 ? null : (
        <p className="quiet">
          The lab has no kits yet; kits are made under The apparatus. This is expected of the lab as given.
        </p>
      )}
      <ul className="judged">
        {answer.kits.map((kit) => (
          <Judgement key={kit.name} kit={kit} />
        ))}
      </ul>
      <div {...scrollsByKeys('The kits')}>
        <table className="settings-table">
          <caption className="unseen">What is expected with each set of equipment</caption>
          <thead>
            <tr>
              <th scope="col">equipment</th>
              <th scope="col">result</th>
              <th scope="col" className="number">
                expected
              </th>
              <th scope="col" className="number">
                theory
              </th>
              <th scope="col" className="number">
                gap without noise
              </th>
              <th scope="col" className="number">
                readings
              </th>
              <th scope="col">model holds</th>
            </tr>
          </thead>
          <tbody>
            {answer.kits.flatMap((kit) =>
              kit.results.map(({ name, expected, theory, gap }, index) => (
                <tr key={`${kit.name} ${name}`}>
                  <th scope="row">{kit.name}</th>
                  <td>
                    <SymbolName name={name} />
                  </td>
                  <td className="number">{expected}</td>
                  <td className="number">{theory ?? '–'}</td>
                  <td className="number">{gap ?? '–'}</td>
                  <td className="number">{index === 0 ? (kit.readings ?? '–') : ''}</td>
                  <td>
                    {index > 0 ? '' : kit.holdsUntil === null ? 'to the end' : `until ${kit.holdsUntil}`}
                  </td>
                </tr>
              )),
            )}
          </tbody>
        </table>
      </div>
      {answer.rehearsals === 0 ? null : (
        <p className="quiet small">{answer.rehearsals} rehearsals with each set of equipment.</p>
      )}
      {answer.figure === null || answer.kits.length < 2 ? null : (
        <FigureView figure={answer.figure} ratio={0.6} isStale={isStale} />
      )}
    </div>
  );
}

function Judgement({ kit: { name, verdict, reasons } }: { readonly kit: JudgedKit }) {
  return (
    <li data-verdict={verdict}>
      <strong>{name}</strong> {verdict}
      {reasons.length === 0 ? '.' : `: ${reasons.join('; ')}.`}
    </li>
  );
}
