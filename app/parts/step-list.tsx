import { useState } from 'react';
import type { EditPlace, LabEdit, PlainValue } from '../../src/edit/index.ts';
import type { ReductionStep } from '../../src/reduction/index.ts';
import { isRecord, listAt, recordAt, textAt } from '../bench/plain.ts';
import { useBench, useBenchState } from '../bench/use-bench.tsx';
import { Choice } from './choice.tsx';
import { MoveButtons } from './move-buttons.tsx';
import { ProblemList } from './problem-list.tsx';
import { SettingFields } from './setting-fields.tsx';

/** Steps in their order: each with its kind and settings, to be moved, changed, taken out, and added to. */
export function StepList({
  at,
  kinds,
  whose,
}: {
  /** Of the list. */
  readonly at: EditPlace;
  readonly kinds: ReadonlyMap<string, ReductionStep>;
  /** 'of each run', 'across runs': for undo and for those who hear the screen. */
  readonly whose: string;
}) {
  const bench = useBench();
  const data = useBenchState(({ reading }) => reading.document?.data);
  const steps = listAt(data, at);
  const options = [...kinds.values()].map(({ name }) => ({ value: name, says: name }));
  const add = (name: string): void => {
    const kind = kinds.get(name);
    if (kind === undefined) return;
    const value = { [name]: firstSettings(kind, data) };
    const edit: LabEdit =
      steps.length === 0
        ? { kind: 'set', at, to: [value] }
        : { kind: 'insert', at, index: steps.length, value };
    bench.edit([edit], { label: `${name} added: a step ${whose}` });
  };
  return (
    <>
      {steps.length === 0 ? null : (
        <ol className="step-list">
          {steps.map((step, index) => (
            <StepForm
              key={index}
              at={[...at, index]}
              list={at}
              index={index}
              count={steps.length}
              step={step}
              kinds={kinds}
              whose={whose}
            />
          ))}
        </ol>
      )}
      <div className="add-line">
        <Choice
          label={steps.length === 0 ? `The first step ${whose}` : `Another step ${whose}`}
          value=""
          options={[{ value: '', says: 'choose one …' }, ...options]}
          onChoose={add}
        />
      </div>
    </>
  );
}

function StepForm({
  at,
  list,
  index,
  count,
  step,
  kinds,
  whose,
}: {
  readonly at: EditPlace;
  readonly list: EditPlace;
  readonly index: number;
  readonly count: number;
  readonly step: unknown;
  readonly kinds: ReadonlyMap<string, ReductionStep>;
  readonly whose: string;
}) {
  const bench = useBench();
  const [name = ''] = isRecord(step) ? Object.keys(step) : [];
  const kind = kinds.get(name);
  const [showsWhat, setShowsWhat] = useState(false);
  const said = `step ${index + 1} ${whose}`;
  const move = (to: number): void => {
    bench.edit([{ kind: 'move', at, index: to }], { label: `${said} moved` });
  };
  return (
    <li className="step-form">
      <div className="step-head">
        <span className="step-number" aria-hidden="true">
          {index + 1}
        </span>
        <Choice
          label={`Kind of ${said}`}
          hidesLabel
          value={name}
          options={[...new Set([...kinds.keys(), name])].map((value) => ({ value, says: value }))}
          onChoose={(to) =>
            bench.edit([{ kind: 'rename', at: [...at, name], to }], { label: `${said} is ${to}` })
          }
        />
        <div className="step-deeds">
          <button
            type="button"
            className="button plain small"
            aria-expanded={showsWhat}
            onClick={() => setShowsWhat(!showsWhat)}
          >
            What it does<span className="unseen">: {said}</span>
          </button>
          <MoveButtons said={said} index={index} count={count} onMove={move} />
          <button
            type="button"
            className="button plain small"
            onClick={() =>
              bench.edit([{ kind: 'remove', at: count === 1 ? list : at }], { label: `${said} taken out` })
            }
          >
            Take out<span className="unseen"> {said}</span>
          </button>
        </div>
      </div>
      {showsWhat ? <p className="quiet small">{kind?.what}</p> : null}
      {kind === undefined ? null : (
        <SettingFields at={[...at, name]} specs={kind.settings} owner={`${name}, ${said}`} />
      )}
      <OwnProblems at={at} name={name} kind={kind} />
    </li>
  );
}

/** Messages on the step as a whole: a setting that is missing has no field of its own to stand at. */
function OwnProblems({
  at,
  name,
  kind,
}: {
  readonly at: EditPlace;
  readonly name: string;
  readonly kind: ReductionStep | undefined;
}) {
  const reading = useBenchState((state) => state.reading);
  const atFields = new Set(
    (kind?.settings ?? []).flatMap((spec) => reading.problemsAt([...at, name, spec.name])),
  );
  return <ProblemList problems={reading.problemsAt(at).filter((one) => !atFields.has(one))} hidesPlace />;
}

/** What can be said of a new step from the lab alone: the first instrument that it can read, and names to be changed. */
function firstSettings(kind: ReductionStep, data: unknown): PlainValue {
  const entries = kind.settings.flatMap((spec): [string, PlainValue][] => {
    if (!spec.required) return [];
    if (spec.kind === 'instrument') {
      const found = Object.entries(recordAt(data, ['instruments'])).find(([, form]) =>
        spec.kinds.includes(textAt(form, ['kind']) ?? ''),
      );
      return found === undefined ? [] : [[spec.name, found[0]]];
    }
    if (spec.kind === 'new names' && spec.least > 1) return [[spec.name, FREE_NAMES.slice(0, spec.least)]];
    return [];
  });
  return Object.fromEntries(entries);
}

const FREE_NAMES = ['t', 'x', 'v', 'a'];
