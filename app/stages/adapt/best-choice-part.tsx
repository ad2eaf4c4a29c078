import { type FormEvent, useMemo, useState } from 'react';
import type { Lab } from '../../../src/lab/index.ts';
import { useBenchState, useLabSource } from '../../bench/use-bench.tsx';
import type { BestChoiceAnswer, BestChoiceQuestion } from '../../compute/tasks/best-choice.ts';
import { useTask } from '../../compute/use-task.ts';
import { Choice } from '../../parts/choice.tsx';
import { Help } from '../../parts/help.tsx';
import { ProblemList } from '../../parts/problem-list.tsx';
import { Progress } from '../../parts/progress.tsx';
import { scrollsByKeys } from '../../parts/scrolls-by-keys.ts';
import { aimsOf, limitsOf } from './measures.ts';
import { TextField } from './text-field.tsx';
import { usualRange } from './usual-range.ts';

type Asked = Omit<BestChoiceQuestion, 'source'>;

/** The best choice of apparatus under limits, found by going through what may be chosen. */
export function BestChoicePart() {
  const lab = useBenchState((state) => state.lab);
  const source = useLabSource();
  const [asked, setAsked] = useState<Asked | null>(null);
  const question = useMemo(
    () => (source === null || asked === null ? null : { source, ...asked }),
    [source, asked],
  );
  const { answer, problems, isWorking, progress } = useTask('long', 'best choice', question);
  return (
    <section aria-labelledby="best-heading">
      <div className="part-head">
        <h2 id="best-heading">The best choice under limits</h2>
        <Help about="what may be chosen">
          <p>
            A range is written “0.8 m..2 m”, a list of what is at hand “250 g, 500 g”, a range in steps “0.8
            m..2 m by 0.1 m”.
          </p>
          <p>
            Every combination of listed values is gone through. Over ranges a grid is, and its best places are
            refined.
          </p>
        </Help>
      </div>
      {lab === null || lab.results.length === 0 || lab.quantities.base.length === 0 ? (
        <p className="quiet">That can be asked as soon as the lab has a quantity and a result.</p>
      ) : (
        <BestChoiceForm lab={lab} onAsk={setAsked} />
      )}
      <Progress progress={progress} isWorking={isWorking} onStop={() => setAsked(null)} />
      <ProblemList problems={problems} hidesPlace />
      {answer === null ? null : <Found answer={answer} isStale={isWorking || asked === null} />}
    </section>
  );
}

function Found({ answer, isStale }: { readonly answer: BestChoiceAnswer; readonly isStale: boolean }) {
  const { says, limits, atEnd, nextBest, how, failed, firstFailure } = answer;
  return (
    <div data-stale={isStale}>
      <div className="threshold" data-met role="status">
        <p>
          <strong>{says}</strong>
        </p>
        {limits.map((limit) => (
          <p key={limit}>{limit}.</p>
        ))}
        {atEnd === '' ? null : <p>{atEnd}</p>}
        <p className="quiet small">{how}</p>
      </div>
      {nextBest.length === 0 ? null : (
        <div {...scrollsByKeys('The next best choices')}>
          <table className="settings-table">
            <caption>Next best</caption>
            <tbody>
              {nextBest.map((next) => (
                <tr key={next.settings}>
                  <th scope="row">{next.settings}</th>
                  <td className="number">{next.value}</td>
                </tr>
              ))}
            </tbody>
          </table>
        </div>
      )}
      {failed === 0 ? null : (
        <p className="small">
          {failed} choices could not be run, the first because: {firstFailure}
        </p>
      )}
    </div>
  );
}

/** Something that may be chosen, or a limit: rows of the form, told apart by a number of their own. */
interface Row {
  readonly id: number;
  readonly name: string;
  readonly text: string;
  readonly sense: '<' | '>';
}

/** More ranges than this have more places than can be gone through. */
const MOST_VARIED = 4;

function BestChoiceForm({ lab, onAsk }: { readonly lab: Lab; readonly onAsk: (asked: Asked) => void }) {
  const aims = useMemo(() => aimsOf(lab), [lab]);
  const measures = useMemo(() => limitsOf(lab), [lab]);
  const [aim, setAim] = useState('');
  const [vary, setVary] = useState<readonly Row[]>(() => {
    const planned = lab.plan.settings[0]?.[0]?.quantity;
    const first = lab.quantities.base.find(({ name }) => name === planned?.name) ?? lab.quantities.base[0];
    return first === undefined ? [] : [rowOf(lab, first.name, 0)];
  });
  const [within, setWithin] = useState<readonly Row[]>([]);
  const [count, setCount] = useState(1);
  const chosen = aims.find(({ value }) => value === aim) ?? aims[0];
  const change = (rows: readonly Row[], id: number, part: Partial<Row>): readonly Row[] =>
    rows.map((row) => (row.id === id ? { ...row, ...part } : row));
  const ask = (event: FormEvent): void => {
    event.preventDefault();
    if (chosen === undefined) return;
    onAsk({
      sense: chosen.sense,
      measure: chosen.measure,
      vary: vary.map(({ name, text }) => [name, text]),
      within: within
        .filter(({ text }) => text.trim() !== '')
        .map(({ name, sense, text }) => `${name} ${sense} ${text.trim()}`),
    });
  };
  const free = lab.quantities.base.filter(({ name }) => !vary.some((row) => row.name === name));
  return (
    <form onSubmit={ask}>
      <div className="vary-form">
        <Choice
          label="What is looked for"
          value={chosen?.value ?? ''}
          options={aims}
          onChoose={(value) => setAim(value)}
        />
      </div>
      {vary.map(({ id, name, text }) => (
        <div key={id} className="vary-form">
          <Choice
            label="May be chosen"
            value={name}
            options={lab.quantities.base
              .filter((one) => one.name === name || free.includes(one))
              .map((one) => ({ value: one.name, says: `${one.name}, ${one.is}` }))}
            onChoose={(to) => setVary(change(vary, id, rowOf(lab, to, id)))}
          />
          <TextField
            label={`${name}: a range, or a list`}
            value={text}
            isWide
            onChange={(to) => setVary(change(vary, id, { text: to }))}
          />
          {vary.length === 1 ? null : (
            <button
              type="button"
              className="button plain small"
              onClick={() => setVary(vary.filter((row) => row.id !== id))}
            >
              Leave out<span className="unseen"> {name}</span>
            </button>
          )}
        </div>
      ))}
      {within.map(({ id, name, sense, text }, index) => (
        <div key={id} className="vary-form">
          <Choice
            label={`Limit ${index + 1}`}
            value={name}
            options={measures}
            onChoose={(to) =>
              setWithin(
                change(within, id, {
                  name: to,
                  text: measures.find(({ value }) => value === to)?.limit ?? '',
                }),
              )
            }
          />
          <Choice
            label="stays"
            value={sense}
            options={[
              { value: '<', says: 'below' },
              { value: '>', says: 'above' },
            ]}
            onChoose={(to) => setWithin(change(within, id, { sense: to }))}
          />
          <TextField
            label={`value of limit ${index + 1}`}
            value={text}
            onChange={(to) => setWithin(change(within, id, { text: to }))}
          />
          <button
            type="button"
            className="button plain small"
            onClick={() => setWithin(within.filter((row) => row.id !== id))}
          >
            Take out<span className="unseen"> limit {index + 1}</span>
          </button>
        </div>
      ))}
      <p className="vary-form">
        <button
          type="button"
          className="button plain small"
          disabled={vary.length >= MOST_VARIED || free.length === 0}
          onClick={() => {
            const [next] = free;
            if (next === undefined) return;
            setVary([...vary, rowOf(lab, next.name, count)]);
            setCount(count + 1);
          }}
        >
          Another quantity
        </button>
        <button
          type="button"
          className="button plain small"
          onClick={() => {
            const [first] = measures;
            if (first === undefined) return;
            setWithin([...within, { id: count, name: first.value, text: first.limit, sense: '<' }]);
            setCount(count + 1);
          }}
        >
          Another limit
        </button>
        <button type="submit" className="button">
          Find the best
        </button>
      </p>
    </form>
  );
}

function rowOf(lab: Lab, name: string, id: number): Row {
  const quantity = lab.quantities.base.find((one) => one.name === name);
  const { from, to } = quantity === undefined ? { from: '', to: '' } : usualRange(quantity);
  return { id, name, text: from === '' ? '' : `${from}..${to}`, sense: '<' };
}
