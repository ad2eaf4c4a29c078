import { type FormEvent, useId, useMemo, useState } from 'react';
import { listStations, type MarkingLanguage } from '../../../src/classroom/index.ts';
import type { Lab } from '../../../src/lab/index.ts';
import { formatNumber, formatUnit } from '../../../src/quantity/index.ts';
import { useLabSource } from '../../bench/use-bench.tsx';
import type { MarkAnswer, ToldCause } from '../../compute/tasks/mark.ts';
import { useTask } from '../../compute/use-task.ts';
import { Choice } from '../../parts/choice.tsx';
import { Help } from '../../parts/help.tsx';
import { ProblemList } from '../../parts/problem-list.tsx';
import { Progress } from '../../parts/progress.tsx';
import { LANGUAGES } from './languages.ts';
import { type TakenFile, takeFile } from './taken-file.ts';

interface Asked {
  readonly station: string;
  readonly reported: readonly { readonly result: string; readonly value: string; readonly u: string }[];
  readonly data: TakenFile | null;
  readonly language: MarkingLanguage;
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
      {answer === null ? null : (
        <Marked answer={answer} language={asked?.language ?? 'en'} isStale={isWorking || asked === null} />
      )}
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
  const [uncertainties, setUncertainties] = useState<Readonly<Record<string, string>>>({});
  const [data, setData] = useState<TakenFile | null>(null);
  const [language, setLanguage] = useState<MarkingLanguage>('en');
  const station = stations.find(({ name }) => name === chosen)?.name ?? '';
  const ask = (event: FormEvent): void => {
    event.preventDefault();
    const reported = lab.results.flatMap(({ name }) => {
      const value = values[name]?.trim() ?? '';
      return value === '' ? [] : [{ result: name, value, u: uncertainties[name]?.trim() ?? '' }];
    });
    onAsk({ station, reported, data, language });
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
        <div key={name} className="reported-number">
          <div className="draft-field">
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
          <div className="draft-field">
            <label htmlFor={`${id} u ${name}`} className="said">
              its u, if stated
            </label>
            <input
              id={`${id} u ${name}`}
              className="field short"
              aria-label={`standard uncertainty of ${name}, if the group states one`}
              autoComplete="off"
              spellCheck={false}
              value={uncertainties[name] ?? ''}
              onChange={(event) => setUncertainties({ ...uncertainties, [name]: event.target.value })}
            />
          </div>
        </div>
      ))}
      <div className="own-data">
        <label className="button plain choose-files">
          {data === null ? 'The group’s readings, if at hand' : `Readings: ${data.name}`}
          <input
            type="file"
            accept=".csv,.tsv,.txt,.dat,.xlsx,.ods,text/*"
            className="unseen"
            onChange={(event) => {
              const chosen = event.target.files?.[0];
              if (chosen !== undefined) void takeFile(chosen).then(setData);
              event.target.value = '';
            }}
          />
        </label>
        {data === null ? null : (
          <button type="button" className="button plain small" onClick={() => setData(null)}>
            Without them
          </button>
        )}
      </div>
      <Choice label="Told in" value={language} options={LANGUAGES} onChoose={setLanguage} />
      <button type="submit" className="button">
        Mark it
      </button>
    </form>
  );
}

function Marked({
  answer,
  language,
  isStale,
}: {
  readonly answer: MarkAnswer;
  readonly language: MarkingLanguage;
  readonly isStale: boolean;
}) {
  return (
    <div data-stale={isStale} role="status" lang={language}>
      {answer.fromData === '' ? null : <p>{answer.fromData}</p>}
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
