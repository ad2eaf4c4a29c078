import { type FormEvent, useId, useMemo, useState } from 'react';
import type { BaseQuantity, Lab } from '../../../src/lab/index.ts';
import { formatNumber, fromSI } from '../../../src/quantity/index.ts';
import { useBenchState, useLabSource } from '../../bench/use-bench.tsx';
import { useTask } from '../../compute/use-task.ts';
import { FigureView } from '../../figure/figure-view.tsx';
import { Choice } from '../../parts/choice.tsx';
import { ProblemList } from '../../parts/problem-list.tsx';
import { Progress } from '../../parts/progress.tsx';
import { measuresOf } from './measures.ts';

/** What was asked, without the lab it is asked of. */
interface Asked {
  readonly quantity: string;
  readonly from: string;
  readonly to: string;
  readonly measure: string;
  readonly until: { readonly sense: '<' | '>'; readonly limit: string } | null;
}

/** One quantity over a range: what it does to a measure, and where that keeps to a limit. */
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
      <h2 id="vary-heading">One quantity over a range</h2>
      <p className="quiet small">
        How far a school may go from the values of the lab, and how long, heavy or fast something must be.
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
              <p>{answer.threshold.says}</p>
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

function TextField({
  label,
  value,
  onChange,
}: {
  readonly label: string;
  readonly value: string;
  readonly onChange: (text: string) => void;
}) {
  const id = useId();
  return (
    <div className="draft-field">
      <label htmlFor={id} className="said">
        {label}
      </label>
      <input
        id={id}
        className="field short"
        value={value}
        autoComplete="off"
        spellCheck={false}
        onChange={(event) => onChange(event.target.value)}
      />
    </div>
  );
}

/** Two thirds to one and a half of what the lab gives: what another school may well have. */
function usualRange({ estimate, unit }: BaseQuantity): { readonly from: string; readonly to: string } {
  const value = fromSI(estimate.value, unit, 'point');
  if (value === 0) return { from: '', to: '' };
  const [low = 0, high = 0] = [value / 1.5, value * 1.5].sort((a, b) => a - b);
  const print = (size: number): string =>
    `${formatNumber(size, { significant: 2 }).replace('−', '-')} ${unit.text}`.trim();
  return { from: print(low), to: print(high) };
}
