import { useState } from 'react';
import { recordAt, textAt } from '../../bench/plain.ts';
import { useBench, useBenchState } from '../../bench/use-bench.tsx';
import { AddLine } from '../../parts/add-line.tsx';
import { Choice } from '../../parts/choice.tsx';
import { DraftField } from '../../parts/draft-field.tsx';
import { Help } from '../../parts/help.tsx';
import { SymbolName } from '../../parts/rich.tsx';
import { describeKey } from '../../parts/schema-help.ts';
import { Toggle } from '../../parts/toggle.tsx';

/** What the ideal theory leaves out: each with its sentence, the values that switch it off, and a switch to try it. */
export function Effects() {
  const bench = useBench();
  const data = useBenchState(({ reading }) => reading.document?.data);
  const effects = Object.entries(recordAt(data, ['effects']));
  return (
    <section aria-labelledby="effects-heading">
      <div className="part-head">
        <h2 id="effects-heading">Effects</h2>
        <Help about="effects">
          <p>
            The equations above hold everything. An effect names the values that switch a part of it off: with
            all of them off the model is the ideal one that theory speaks of.
          </p>
          <p>A switch only looks what happens without an effect; the file is not changed by it.</p>
        </Help>
      </div>
      {effects.map(([name, form]) => (
        <EffectForm key={name} name={name} form={form} />
      ))}
      <AddLine
        label="Another effect, in a few words"
        onAdd={(name) =>
          bench.edit([{ kind: 'set', at: ['effects', name], to: { off: {} } }], { label: `${name} added` })
        }
      />
    </section>
  );
}

function EffectForm({ name, form }: { readonly name: string; readonly form: unknown }) {
  const bench = useBench();
  const lab = useBenchState((state) => state.lab);
  const without = useBenchState((state) => state.without);
  const [begun, setBegun] = useState<string | null>(null);
  const at = ['effects', name];
  const off = recordAt(form, ['off']);
  const names = [...Object.keys(off), ...(begun === null || begun in off ? [] : [begun])];
  const others = lab?.quantities.base.filter((quantity) => !names.includes(quantity.name)) ?? [];
  return (
    <div className="effect">
      <div className="effect-head">
        <h3>
          <Toggle
            isOn={!without.has(name)}
            onToggle={(isOn) =>
              bench.look(new Set(isOn ? [...without].filter((one) => one !== name) : [...without, name]))
            }
          >
            {name}
          </Toggle>
        </h3>
        <button
          type="button"
          className="button plain small"
          onClick={() => bench.edit([{ kind: 'remove', at }], { label: `${name} taken out` })}
        >
          Take out<span className="unseen"> {name}</span>
        </button>
      </div>
      <DraftField
        label={`What ${name} is`}
        hidesLabel
        written={textAt(form, ['is']) ?? ''}
        at={[...at, 'is']}
        what={`description of ${name}`}
        holdsBack={false}
        wraps
        placeholder={describeKey(['effects', 'any', 'is'])}
        toEdits={(to) =>
          to.trim() === ''
            ? [{ kind: 'remove', at: [...at, 'is'] }]
            : [{ kind: 'set', at: [...at, 'is'], to }]
        }
      />
      <div className="effect-off">
        <span className="quiet small">off at</span>
        {names.map((symbol) => (
          <div key={symbol} className="kit-value">
            <SymbolName name={symbol} />
            <DraftField
              label={`${symbol} where ${name} is off`}
              hidesLabel
              written={textAt(off, [symbol]) ?? ''}
              at={[...at, 'off', symbol]}
              what={`${symbol} without ${name}`}
              holdsBack
              placeholder="0"
              toEdits={(to) =>
                to.trim() === ''
                  ? [{ kind: 'remove', at: [...at, 'off', symbol] }]
                  : [{ kind: 'set', at: [...at, 'off', symbol], to }]
              }
            />
          </div>
        ))}
        <Choice
          label={`Another quantity that switches ${name} off`}
          hidesLabel
          value=""
          options={[
            { value: '', says: 'another quantity …' },
            ...others.map((quantity) => ({ value: quantity.name, says: `${quantity.name}, ${quantity.is}` })),
          ]}
          onChoose={(symbol) => setBegun(symbol === '' ? null : symbol)}
        />
      </div>
    </div>
  );
}
