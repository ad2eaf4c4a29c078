import { useState } from 'react';
import { recordAt, textAt } from '../../bench/plain.ts';
import { useBenchState } from '../../bench/use-bench.tsx';
import { Choice } from '../../parts/choice.tsx';
import { DraftField } from '../../parts/draft-field.tsx';
import { SymbolName } from '../../parts/rich.tsx';
import { describeKey } from '../../parts/schema-help.ts';

/** The runs that the lab asks for: which quantities take which values, and how often each. */
export function PlanForm() {
  const data = useBenchState(({ reading }) => reading.document?.data);
  const lab = useBenchState((state) => state.lab);
  const [begun, setBegun] = useState<string | null>(null);
  const settings = recordAt(data, ['plan', 'settings']);
  const settable = lab?.quantities.base.filter(({ name }) => !(name in settings)) ?? [];
  const names = [...Object.keys(settings), ...(begun === null || begun in settings ? [] : [begun])];
  return (
    <section aria-labelledby="plan-heading">
      <h2 id="plan-heading">The plan</h2>
      <p className="quiet small">{describeKey(['plan'])}</p>
      <div className="plan-fields">
        {names.map((name) => (
          <div key={name} className="plan-setting">
            <SymbolName name={name} />
            <DraftField
              label={`Values of ${name}, with commas between them`}
              written={valuesText(settings[name])}
              at={['plan', 'settings', name]}
              what={`planned values of ${name}`}
              holdsBack
              placeholder="0.9 m, 1.2 m"
              toEdits={(text) =>
                text.trim() === ''
                  ? [{ kind: 'remove', at: ['plan', 'settings', name] }]
                  : [{ kind: 'set', at: ['plan', 'settings', name], to: splitValues(text) }]
              }
            />
          </div>
        ))}
        <Choice
          label="Another quantity that the runs vary"
          value=""
          options={[
            { value: '', says: 'choose one …' },
            ...settable.map(({ name, is }) => ({ value: name, says: `${name}, ${is}` })),
          ]}
          onChoose={(name) => setBegun(name === '' ? null : name)}
        />
        <DraftField
          label="Runs with each setting"
          written={textAt(data, ['plan', 'repeats']) ?? ''}
          at={['plan', 'repeats']}
          what="runs with each setting"
          holdsBack
          placeholder="1"
          toEdits={(text) =>
            text.trim() === ''
              ? [{ kind: 'remove', at: ['plan', 'repeats'] }]
              : [{ kind: 'set', at: ['plan', 'repeats'], to: wholeOrText(text) }]
          }
        />
      </div>
      {Object.keys(settings).length > 0 || lab === null ? null : (
        <p className="quiet small">Every run is taken with the apparatus as it is given.</p>
      )}
      <p className="unseen" aria-live="polite">
        {lab === null ? '' : `${lab.plan.settings.length * lab.plan.repeats} runs planned`}
      </p>
    </section>
  );
}

function valuesText(values: unknown): string {
  return Array.isArray(values) ? values.map(String).join(', ') : '';
}

/** At commas with a space behind them or none between digits: '0,9 m' is one value with a decimal comma. */
function splitValues(text: string): readonly string[] {
  return text
    .split(/[,;]\s+|;/)
    .map((part) => part.trim())
    .filter((part) => part !== '');
}

/** What is no number stays as it was typed, so that the message tells what was found. */
function wholeOrText(text: string): number | string {
  return /^\d+$/.test(text.trim()) ? Number(text) : text;
}
