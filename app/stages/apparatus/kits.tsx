import { useState } from 'react';
import { recordAt, textAt } from '../../bench/plain.ts';
import { useBench, useBenchState } from '../../bench/use-bench.tsx';
import { AddLine } from '../../parts/add-line.tsx';
import { Choice } from '../../parts/choice.tsx';
import { DraftField } from '../../parts/draft-field.tsx';
import { SymbolName } from '../../parts/rich.tsx';

/** What a school may own instead: a name, and the quantities that are other with it. */
export function Kits() {
  const bench = useBench();
  const data = useBenchState(({ reading }) => reading.document?.data);
  const kits = Object.entries(recordAt(data, ['kits']));
  return (
    <section className="apparatus-part" aria-labelledby="kits-heading">
      <h2 id="kits-heading">Kits</h2>
      <p className="quiet small">
        Equipment that another school may own instead. What the lab expects with each stands under “Adapt” and
        in the teacher guide.
      </p>
      {kits.map(([name, form]) => (
        <KitForm key={name} name={name} form={form} />
      ))}
      <AddLine
        label="Another kit"
        onAdd={(name) =>
          bench.edit([{ kind: 'insert', at: ['kits'], key: name, value: { set: {} } }], {
            label: `${name} added`,
          })
        }
      />
    </section>
  );
}

function KitForm({ name, form }: { readonly name: string; readonly form: unknown }) {
  const bench = useBench();
  const lab = useBenchState((state) => state.lab);
  const [begun, setBegun] = useState<string | null>(null);
  const at = ['kits', name];
  const set = recordAt(form, ['set']);
  const settable = lab?.quantities.base.filter((quantity) => !(quantity.name in set)) ?? [];
  const names = [...Object.keys(set), ...(begun === null || begun in set ? [] : [begun])];
  return (
    <div className="instrument">
      <div className="instrument-head">
        <h3>{name}</h3>
        <DraftField
          label={`What ${name} is`}
          hidesLabel
          written={textAt(form, ['is']) ?? ''}
          at={[...at, 'is']}
          what={`description of ${name}`}
          holdsBack={false}
          placeholder="what it is"
          className="bare"
          toEdits={(to) =>
            to.trim() === ''
              ? [{ kind: 'remove', at: [...at, 'is'] }]
              : [{ kind: 'set', at: [...at, 'is'], to }]
          }
        />
        <button
          type="button"
          className="button plain small"
          onClick={() => bench.edit([{ kind: 'remove', at }], { label: `kit ${name} taken out` })}
        >
          Take out<span className="unseen"> kit {name}</span>
        </button>
      </div>
      <div className="kit-values">
        {names.map((symbol) => (
          <div key={symbol} className="kit-value">
            <SymbolName name={symbol} />
            <DraftField
              label={`${symbol} with ${name}`}
              hidesLabel
              written={textAt(set, [symbol]) ?? ''}
              at={[...at, 'set', symbol]}
              what={`${symbol} with ${name}`}
              holdsBack
              placeholder="25 mm"
              toEdits={(to) =>
                to.trim() === ''
                  ? [{ kind: 'remove', at: [...at, 'set', symbol] }]
                  : [{ kind: 'set', at: [...at, 'set', symbol], to }]
              }
            />
          </div>
        ))}
        <Choice
          label={`Another quantity that is other with ${name}`}
          hidesLabel
          value=""
          options={[
            { value: '', says: 'another quantity …' },
            ...settable.map((quantity) => ({
              value: quantity.name,
              says: `${quantity.name}, ${quantity.is}`,
            })),
          ]}
          onChoose={(symbol) => setBegun(symbol === '' ? null : symbol)}
        />
      </div>
    </div>
  );
}
