import { recordAt } from '../../bench/plain.ts';
import { useBench, useBenchState } from '../../bench/use-bench.tsx';
import { AddLine } from '../../parts/add-line.tsx';
import { EntryField } from '../../parts/entry-field.tsx';
import { Help } from '../../parts/help.tsx';
import { RenameEntry } from '../../parts/rename-field.tsx';
import { describeKey } from '../../parts/schema-help.ts';
import { SymbolValues } from '../../parts/symbol-values.tsx';
import { Toggle } from '../../parts/toggle.tsx';

/** What the ideal theory leaves out: each with its sentence, the values that switch it off, and a switch to try it. */
export function Effects() {
  const bench = useBench();
  const data = useBenchState(({ reading }) => reading.document?.data);
  const effects = Object.keys(recordAt(data, ['effects']));
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
      {effects.map((name) => (
        <EffectForm key={name} name={name} />
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

function EffectForm({ name }: { readonly name: string }) {
  const bench = useBench();
  const lab = useBenchState((state) => state.lab);
  const without = useBenchState((state) => state.without);
  const at = ['effects', name];
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
        <div className="entry-deeds">
          <RenameEntry at={at} />
          <button
            type="button"
            className="button plain small"
            onClick={() => bench.edit([{ kind: 'remove', at }], { label: `${name} taken out` })}
          >
            Take out<span className="unseen"> {name}</span>
          </button>
        </div>
      </div>
      <EntryField
        at={[...at, 'is']}
        label={`What ${name} is`}
        hidesLabel
        what={`description of ${name}`}
        holdsBack={false}
        wraps
        placeholder={describeKey(['effects', 'any', 'is'])}
      />
      <div className="effect-off">
        <span className="quiet small">off at</span>
        <SymbolValues
          at={[...at, 'off']}
          symbols={lab?.quantities.base ?? []}
          owner={`where ${name} is off`}
          placeholder="0"
        />
      </div>
    </div>
  );
}
