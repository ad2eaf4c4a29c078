import { type FormEvent, useMemo, useState } from 'react';
import type { Lab } from '../../../src/lab/index.ts';
import { useBenchState, useLabSource } from '../../bench/use-bench.tsx';
import { useTask } from '../../compute/use-task.ts';
import { FigureView } from '../../figure/figure-view.tsx';
import { Choice } from '../../parts/choice.tsx';
import { ProblemList } from '../../parts/problem-list.tsx';
import { Progress } from '../../parts/progress.tsx';
import { measuresOf } from './measures.ts';
import { TextField } from './text-field.tsx';
import { usualRange } from './usual-range.ts';

/** What was asked, without the lab it is asked of. */
interface Asked {
  readonly quantity: string;
  readonly from: string;
  readonly to: string;
  readonly second: { readonly quantity: string; readonly from: string; readonly to: string } | null;
  readonly measure: string;
  readonly until: { readonly sense: '<' | '>'; readonly limit: string } | null;
}

/** One or two quantities over ranges: what they do to a measure, and where that keeps to a limit. */
export function VariationPart() {
  const lab = useBenchState((state) => state.lab);
  const source = useLabSource();
  const [asked, setAsked] = useState<Asked | null>(null);
  const question = useMemo(
    () => (source === null || asked === null ? null : { source, ...asked }),
    [source, asked],
  );
  const { answer, problems, isWorking, progress } = useTask('long', 'variation', question);
  return (
    <section aria-labelledby="vary-heading">
      <h2 id="vary-heading">Over a range</h2>
      <p className="quiet small">
        How far a school may go from the values of the lab, and how long, heavy or fast something must be.
        With a second quantity a map is drawn.
      </p>
      {lab === null || lab.results.length === 0 || lab.quantities.base.length === 0 ? (
        <p className="quiet">That can be asked as soon as the lab has a quantity and a result.</p>
      ) : (
        <VariationForm lab={lab} onAsk={setAsked} />
      )}
      <Progress progress={progress} isWorking={isWorking} onStop={() => setAsked(null)} />
      <ProblemList problems={problems} hidesPlace />
      {answer === null ? null : (
        <div data-stale={isWorking || asked === null}>
          {answer.threshold === null ? null : (
            <div className="threshold" data-met={answer.threshold.isMet} role="status">
              {answer.threshold.says.map((sentence) => (
                <p key={sentence}>{sentence}</p>
              ))}
              <p className="quiet small">{answer.threshold.range}</p>
            </div>
          )}
          <FigureView figure={answer.figure} ratio={0.6} isStale={isWorking || asked === null} />
          {answer.failed === 0 ? null : (
            <p className="small">
              At {answer.failed} places the lab cannot be run, the first time because: {answer.firstFailure}
            </p>
          )}
        </div>
      )}
    </section>
  );
}

function VariationForm({ lab, onAsk }: { readonly lab: Lab; readonly onAsk: (asked: Asked) => void }) {
  const planned = lab.plan.settings[0]?.[0]?.quantity.name;
  const measures = useMemo(() => measuresOf(lab), [lab]);
  const [chosen, setChosen] = useState(planned ?? '');
  const [range, setRange] = useState<{ readonly from: string; readonly to: string } | null>(null);
  const [other, setOther] = useState<Asked['second']>(null);
  const [measure, setMeasure] = useState('');
  const [sense, setSense] = useState<'<' | '>'>('<');
  const [limit, setLimit] = useState('5 %');
  const quantity = lab.quantities.base.find(({ name }) => name === chosen) ?? lab.quantities.base[0];
  if (quantity === undefined) return null;
  const { from, to } = range ?? usualRange(quantity);
  const shown = measures.find(({ value }) => value === measure) ?? measures[0];
  const ask = (event: FormEvent): void => {
    event.preventDefault();
    onAsk({
      quantity: quantity.name,
      from,
      to,
      second: other,
      measure: shown?.value ?? '',
      until: limit.trim() === '' ? null : { sense, limit: limit.trim() },
    });
  };
  return (
    <form className="vary-form" onSubmit={ask}>
      <Choice
        label="What is varied"
        value={quantity.name}
        options={lab.quantities.base.map(({ name, is }) => ({ value: name, says: `${name}, ${is}` }))}
        onChoose={(name) => {
          setChosen(name);
          setRange(null);
        }}
      />
      <TextField label="from" value={from} onChange={(text) => setRange({ from: text, to })} />
      <TextField label="to" value={to} onChange={(text) => setRange({ from, to: text })} />
      <Choice
        label="And with it"
        value={other?.quantity ?? ''}
        options={[
          { value: '', says: 'nothing else' },
          ...lab.quantities.base
            .filter(({ name }) => name !== quantity.name)
            .map(({ name, is }) => ({ value: name, says: `${name}, ${is}` })),
        ]}
        onChoose={(name) => {
          const found = lab.quantities.base.find((one) => one.name === name);
          setOther(found === undefined ? null : { quantity: name, ...usualRange(found) });
        }}
      />
      {other === null ? null : (
        <>
          <TextField
            label={`${other.quantity} from`}
            value={other.from}
            onChange={(text) => setOther({ ...other, from: text })}
          />
          <TextField
            label={`${other.quantity} to`}
            value={other.to}
            onChange={(text) => setOther({ ...other, to: text })}
          />
        </>
      )}
      <Choice
        label="What is looked at"
        value={shown?.value ?? ''}
        options={measures}
        onChoose={(value) => {
          setMeasure(value);
          setLimit(measures.find((one) => one.value === value)?.limit ?? '');
        }}
      />
      <Choice
        label="Where does it stay"
        value={sense}
        options={[
          { value: '<', says: 'below' },
          { value: '>', says: 'above' },
        ]}
        onChoose={setSense}
      />
      <TextField label="limit, or nothing" value={limit} onChange={setLimit} />
      <button type="submit" className="button">
        Work it out
      </button>
    </form>
  );
}
