import { type FormEvent, useId, useMemo, useState } from 'react';
import { listStations } from '../../../src/classroom/index.ts';
import type { Lab } from '../../../src/lab/index.ts';
import { formatNumber, formatUnit } from '../../../src/quantity/index.ts';
import { useLabSource } from '../../bench/use-bench.tsx';
import type { MarkAnswer, ToldCause } from '../../compute/tasks/mark.ts';
import { useTask } from '../../compute/use-task.ts';
import { Choice } from '../../parts/choice.tsx';
import { Help } from '../../parts/help.tsx';
import { ProblemList } from '../../parts/problem-list.tsx';
import { Progress } from '../../parts/progress.tsx';

interface Asked {
  readonly station: string;
  readonly reported: readonly { readonly result: string; readonly value: string }[];
}

/** What would produce the numbers that a group reports, the likeliest first, with the sentence that helps. */
export function MarkPart({ lab, groups }: { readonly lab: Lab; readonly groups: number | null }) {
  const source = useLabSource();
  const [asked, setAsked] = useState<Asked | null>(null);
  const question = useMemo(
    () => (source === null || asked === null ? null : { source, groups, ...asked }),
    [source, groups, asked],
  );
  const { answer, problems, isWorking, progress } = useTask('long', 'mark', question);
  return (
    <section aria-labelledby="mark-heading">
      <div className="part-head">
        <h2 id="mark-heading">What a group reports</h2>
        <Help about="the causes">
          <p>
            The lab is rehearsed with nothing wrong, with each slip, with pairs of slips and with effects
            larger than assumed. The share says how much of all that speaks for a cause; “nothing known” is
            among them.
          </p>
          <p>The digits that are written tell how far a number was rounded.</p>
        </Help>
      </div>
      <MarkForm lab={lab} groups={groups} onAsk={setAsked} />
      <Progress progress={progress} isWorking={isWorking} onStop={() => setAsked(null)} />
      <ProblemList problems={problems} />
      {answer === null ? null : <Marked answer={answer} isStale={isWorking || asked === null} />}
    </section>
  );
}

function MarkForm({
  lab,
  groups,
  onAsk,
}: {
  readonly lab: Lab;
  readonly groups: number | null;
  readonly onAsk: (asked: Asked) => void;
}) {
  const id = useId();
  const stations = useMemo(() => listStations(lab, groups === null ? {} : { groups }), [lab, groups]);
  const [chosen, setChosen] = useState<string | null>(null);
  const [values, setValues] = useState<Readonly<Record<string, string>>>({});
  const station = stations.find(({ name }) => name === chosen)?.name ?? '';
  const ask = (event: FormEvent): void => {
    event.preventDefault();
    const reported = lab.results.flatMap(({ name }) => {
      const value = values[name]?.trim() ?? '';
      return value === '' ? [] : [{ result: name, value }];
    });
    onAsk({ station, reported });
  };
  return (
    <form className="station-fields" onSubmit={ask}>
      <Choice
        label="Station of the group"
        value={station}
        options={[
          { value: '', says: 'the lab as given' },
          ...stations.map(({ name }) => ({ value: name, says: name })),
        ]}
        onChoose={setChosen}
      />
      {lab.results.map(({ name, unit }) => (
        <div key={name} className="draft-field">
          <label htmlFor={`${id} ${name}`} className="said">
            reported {name}
            {formatUnit(unit) === '' ? '' : `, in ${formatUnit(unit)} or with its unit`}
          </label>
          <input
            id={`${id} ${name}`}
            className="field"
            autoComplete="off"
            spellCheck={false}
            value={values[name] ?? ''}
            onChange={(event) => setValues({ ...values, [name]: event.target.value })}
          />
        </div>
      ))}
      <button type="submit" className="button">
        Mark it
      </button>
    </form>
  );
}

function Marked({ answer, isStale }: { readonly answer: MarkAnswer; readonly isStale: boolean }) {
  return (
    <div data-stale={isStale} role="status">
      {answer.bands.map(({ says, isWithin }) => (
        <p key={says} className="band" data-within={isWithin}>
          {says}.
        </p>
      ))}
      <ol className="told causes">
        {answer.causes.map((cause) => (
          <CauseRow key={cause.name} cause={cause} />
        ))}
      </ol>
    </div>
  );
}

function CauseRow({ cause: { name, kind, share, gives, helps } }: { readonly cause: ToldCause }) {
  const percent = 100 * share;
  return (
    <li data-kind={kind}>
      <p>
        <strong>{name}</strong>{' '}
        <span className="quiet">
          {percent >= 99.5 ? 'almost certain' : `${formatNumber(percent, { decimals: 0 })} %`}
          {gives === '' ? '' : `; would give ${gives}`}
        </span>
      </p>
      <p>{helps}</p>
    </li>
  );
}
