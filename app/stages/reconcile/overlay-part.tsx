import { useMemo, useState } from 'react';
import { useLabSource } from '../../bench/use-bench.tsx';
import type { OverlayAnswer } from '../../compute/tasks/overlay.ts';
import { useTask } from '../../compute/use-task.ts';
import { FigureView } from '../../figure/figure-view.tsx';
import { Choice } from '../../parts/choice.tsx';
import { ProblemList } from '../../parts/problem-list.tsx';
import { Waiting } from '../../parts/waiting.tsx';

/** Theory, model and data in one plot, each run's own residuals, and where the model holds. */
export function OverlayPart({ group }: { readonly group: string | null }) {
  const source = useLabSource();
  const question = useMemo(() => (source === null ? null : { source, group }), [source, group]);
  const { answer, problems, isWorking } = useTask('follow', 'overlay', question);
  if (answer === null) return problems.length > 0 ? <ProblemList problems={problems} /> : <Waiting />;
  return (
    <>
      <section aria-labelledby="overlay-heading">
        <h2 id="overlay-heading">
          Model and data{answer.groupLabel === 'as given' ? '' : `, ${answer.groupLabel}`}
        </h2>
        {answer.overlays.map((figure) => (
          <FigureView key={figure.name} figure={figure} isStale={isWorking} ratio={0.68} />
        ))}
        <Runs answer={answer} />
      </section>
      <Validity answer={answer} isStale={isWorking} />
      {problems.length > 0 ? <ProblemList problems={problems} /> : null}
    </>
  );
}

function Runs({ answer }: { readonly answer: OverlayAnswer }) {
  const [name, setName] = useState('');
  const run = answer.runs.find((one) => one.name === name);
  if (answer.runs.length === 0 && answer.failed.length === 0) return null;
  return (
    <div className="runs">
      <Choice
        label="One run with its residuals"
        value={run?.name ?? ''}
        options={[
          { value: '', says: 'choose a run' },
          ...answer.runs.map((one) => ({ value: one.name, says: one.name })),
        ]}
        onChoose={setName}
      />
      {run?.figures.map((figure) => (
        <FigureView key={figure.name} figure={figure} ratio={0.68} />
      ))}
      {answer.failed.map((one) => (
        <div key={one.name}>
          <p>“{one.name}” gave no result:</p>
          <ProblemList problems={one.problems} />
        </div>
      ))}
      {answer.setAside.map((one) => (
        <p key={one.name} className="quiet small">
          “{one.name}” is set aside: {one.reason}
        </p>
      ))}
    </div>
  );
}

function Validity({ answer, isStale }: { readonly answer: OverlayAnswer; readonly isStale: boolean }) {
  if (answer.motion === null) return null;
  const failing = answer.holds.filter(({ failsAt }) => failsAt !== null);
  return (
    <section aria-labelledby="validity-heading">
      <h2 id="validity-heading">Where the model holds</h2>
      <p>
        {failing.length === 0
          ? answer.holds.length === 0
            ? 'The lab states no condition under which its model is true.'
            : `It holds to the end: ${answer.holds.map(({ name }) => name).join(', ')}.`
          : failing
              .map(({ name, failsAt }) => `“${name}” fails at ${(failsAt?.t ?? 0).toPrecision(3)} s`)
              .join('; ')}
      </p>
      <FigureView figure={answer.motion} isStale={isStale} ratio={0.55} />
    </section>
  );
}
