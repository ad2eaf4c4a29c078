import { type InstrumentKind, instrumentKinds } from '../../../src/instrument/index.ts';
import { recordAt, textAt } from '../../bench/plain.ts';
import { useBench, useBenchState } from '../../bench/use-bench.tsx';
import { AddLine } from '../../parts/add-line.tsx';
import { Choice } from '../../parts/choice.tsx';
import { EntryField } from '../../parts/entry-field.tsx';
import { RenameEntry } from '../../parts/rename-field.tsx';
import { SettingFields } from '../../parts/setting-fields.tsx';

/** What looks at the phenomenon, and how: kind, signal, and the settings that its kind has. */
export function Instruments() {
  const bench = useBench();
  const data = useBenchState(({ reading }) => reading.document?.data);
  const instruments = Object.entries(recordAt(data, ['instruments']));
  return (
    <section className="apparatus-part" aria-labelledby="instruments-heading">
      <h2 id="instruments-heading">Instruments</h2>
      {instruments.map(([name, form]) => (
        <InstrumentForm key={name} name={name} form={form} />
      ))}
      <AddLine
        label="Another instrument, by the name that your school gives it"
        onAdd={(name) =>
          bench.edit([{ kind: 'insert', at: ['instruments'], key: name, value: { kind: 'sampled' } }], {
            label: `${name} added`,
          })
        }
      />
    </section>
  );
}

function InstrumentForm({ name, form }: { readonly name: string; readonly form: unknown }) {
  const bench = useBench();
  const at = ['instruments', name];
  const kind = instrumentKinds.get(textAt(form, ['kind']) ?? '');
  return (
    <div className="instrument">
      <div className="instrument-head">
        <h3>{name}</h3>
        <Choice
          label={`Kind of ${name}`}
          hidesLabel
          value={kind?.kind ?? ''}
          options={[...instrumentKinds.values()].map((one) => ({ value: one.kind, says: one.kind }))}
          onChoose={(to) =>
            bench.edit([{ kind: 'set', at: [...at, 'kind'], to }], { label: `${name} as ${to}` })
          }
        />
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
      <p className="quiet small">{kind?.what}</p>
      <div className="form-fields">
        {kind?.signals.map((signal) => (
          <EntryField
            key={signal.name}
            at={[...at, signal.name]}
            label={signal.name === 'of' ? 'looks at' : signal.name}
            what={`what ${name} looks at`}
            placeholder={signal.what}
            className="formula"
            isNeeded
          />
        ))}
      </div>
      <SettingFields at={at} specs={kind?.settings ?? []} owner={name} />
      <OtherProblems name={name} kind={kind} />
    </div>
  );
}

/** An instrument whose kind is not known has no fields at which its messages could stand. */
function OtherProblems({ name, kind }: { readonly name: string; readonly kind: InstrumentKind | undefined }) {
  const problems = useBenchState(({ reading }) => reading).problemsAt(['instruments', name]);
  if (kind !== undefined || problems.length === 0) return null;
  return <p className="small problems-line">{problems[0]?.message}</p>;
}
