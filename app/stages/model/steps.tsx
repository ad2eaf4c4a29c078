import { useMemo, useState } from 'react';
import { plainAt } from '../../bench/plain.ts';
import { useBenchState, useLabSource } from '../../bench/use-bench.tsx';
import type { StepErrors } from '../../compute/tasks/steps.ts';
import { useTask } from '../../compute/use-task.ts';
import { FigureView } from '../../figure/figure-view.tsx';
import { Help } from '../../parts/help.tsx';
import { ProblemList } from '../../parts/problem-list.tsx';
import { Progress } from '../../parts/progress.tsx';
import { SymbolName } from '../../parts/rich.tsx';
import { scrollsByKeys } from '../../parts/scrolls-by-keys.ts';

/** For classes that compute the motion step by step: the error of each stepper, and the largest step that will do. */
export function Steps() {
  const source = useLabSource();
  const isRelation = useBenchState(
    ({ reading }) => plainAt(reading.document?.data, ['model', 'relation']) !== undefined,
  );
  const [isAsked, setAsked] = useState(false);
  const question = useMemo(() => (source === null || !isAsked ? null : { source }), [source, isAsked]);
  const { answer, problems, isWorking, progress } = useTask('long', 'steps', question);
  if (isRelation) return null;
  return (
    <section aria-labelledby="steps-heading">
      <div className="part-head">
        <h2 id="steps-heading">Choosing a step</h2>
        <Help about="steps">
          <p>
            A class that computes the motion without calculus takes small steps in time. A step is small
            enough when its error is below a tenth of what the measurement can tell.
          </p>
        </Help>
      </div>
      {isAsked ? null : (
        <button type="button" className="button" onClick={() => setAsked(true)}>
          Work out the table
        </button>
      )}
      <Progress progress={progress} isWorking={isWorking} onStop={() => setAsked(false)} />
      <ProblemList problems={problems} />
      {answer?.map((table) => (
        <StepTable key={table.result} table={table} isStale={isWorking} />
      ))}
    </section>
  );
}

function StepTable({ table, isStale }: { readonly table: StepErrors; readonly isStale: boolean }) {
  const good = table.steppers.filter(({ enough }) => enough !== null);
  const none = table.steppers.filter(({ enough }) => enough === null);
  return (
    <div className="step-table">
      <h3>
        <SymbolName name={table.result} />, {table.is}
      </h3>
      <p>
        {table.u === null
          ? 'No uncertainty is known that the errors could be held against.'
          : `The measurement will have u = ${table.u} ${table.unit}.`}
        {good.length === 0
          ? ''
          : ` Small enough: ${good.map(({ name, enough }) => `${enough} for ${name}`).join(', ')}.`}
        {table.u === null || none.length === 0
          ? ''
          : ` No step tried is small enough for ${none.map(({ name }) => name).join(' and ')}.`}
      </p>
      <div {...scrollsByKeys('The steps')}>
        <table className="settings-table">
          <caption className="unseen">
            Error of {table.result} in {table.unit}
          </caption>
          <thead>
            <tr>
              <th scope="col">step</th>
              {table.steppers.map(({ name }) => (
                <th key={name} scope="col" className="number">
                  {name}
                </th>
              ))}
            </tr>
          </thead>
          <tbody>
            {table.rows.map(({ step, errors }) => (
              <tr key={step}>
                <th scope="row">{step}</th>
                {errors.map((error, index) => (
                  <td
                    key={table.steppers[index]?.name}
                    className="number"
                    data-good={error?.isGood === true ? true : undefined}
                  >
                    {error === null ? 'no result' : error.text}
                    {error?.isGood === true ? <span className="unseen"> small enough</span> : null}
                  </td>
                ))}
              </tr>
            ))}
          </tbody>
        </table>
      </div>
      <FigureView figure={table.figure} ratio={0.55} isStale={isStale} />
    </div>
  );
}
