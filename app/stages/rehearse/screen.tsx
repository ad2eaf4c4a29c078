import { useMemo, useState } from 'react';
import { useLabSource } from '../../bench/use-bench.tsx';
import { useTask } from '../../compute/use-task.ts';
import { FigureView } from '../../figure/figure-view.tsx';
import { Choice } from '../../parts/choice.tsx';
import { ProblemList } from '../../parts/problem-list.tsx';
import { Progress } from '../../parts/progress.tsx';
import { StillNeeded, useIsWhole } from '../../parts/still-needed.tsx';
import { Toggle } from '../../parts/toggle.tsx';
import { PlanForm } from './plan-form.tsx';
import { ReadingsSeen } from './readings-seen.tsx';
import { RehearsedResults } from './rehearsed-results.tsx';
import './rehearse.css';

const REPEATS = ['20', '100', '400'] as const;
type Repeats = (typeof REPEATS)[number];

/** The plan, rehearsed with the noise of the instruments: scatter of each result, and what the instruments show. */
export default function RehearseScreen() {
  const source = useLabSource();
  const [repeats, setRepeats] = useState<Repeats>('100');
  const [seed, setSeed] = useState(1);
  const [drawsQuantities, setDrawsQuantities] = useState(false);
  const [isStopped, setStopped] = useState(false);
  const isWhole = useIsWhole();
  const question = useMemo(
    () =>
      source === null || isStopped || !isWhole
        ? null
        : { source, repeats: Number(repeats), seed, drawsQuantities },
    [source, repeats, seed, drawsQuantities, isStopped, isWhole],
  );
  const { answer, problems, isWorking, progress } = useTask('long', 'rehearse', question);
  if (!isWhole)
    return (
      <div className="rehearse">
        <PlanForm />
        <StillNeeded />
      </div>
    );
  return (
    <div className="rehearse">
      <PlanForm />
      <section aria-labelledby="rehearsals-heading">
        <h2 id="rehearsals-heading">Rehearsals</h2>
        <div className="rehearse-choices">
          <Choice
            label="How often"
            value={repeats}
            options={REPEATS.map((value) => ({ value, says: `${value} times` }))}
            onChoose={(value) => {
              setRepeats(value);
              setStopped(false);
            }}
          />
          <Toggle isOn={drawsQuantities} onToggle={setDrawsQuantities}>
            each time another apparatus, within the uncertainties
          </Toggle>
          <button
            type="button"
            className="button"
            onClick={() => {
              setSeed(seed + 1);
              setStopped(false);
            }}
          >
            With other noise
          </button>
        </div>
        <Progress progress={progress} isWorking={isWorking} onStop={() => setStopped(true)} />
        {isStopped ? (
          <p className="quiet">
            Stopped. What stands below is older.{' '}
            <button type="button" className="button plain small" onClick={() => setStopped(false)}>
              Go on
            </button>
          </p>
        ) : null}
        <ProblemList problems={problems} />
        {answer === null ? null : <RehearsedResults answer={answer} isStale={isWorking || isStopped} />}
      </section>
      {answer === null ? null : (
        <>
          <ReadingsSeen answer={answer} />
          {answer.fits.map((figure) => (
            <FigureView key={figure.name} figure={figure} ratio={0.62} isStale={isWorking || isStopped} />
          ))}
        </>
      )}
    </div>
  );
}
