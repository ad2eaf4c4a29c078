import { useState } from 'react';
import { type InstrumentKind, instrumentKinds, type SettingSpec } from '../../../src/instrument/index.ts';
import { plainAt, recordAt, textAt } from '../../bench/plain.ts';
import { useBench, useBenchState } from '../../bench/use-bench.tsx';
import { AddLine } from '../../parts/add-line.tsx';
import { Choice } from '../../parts/choice.tsx';
import { DraftField } from '../../parts/draft-field.tsx';
import { Help } from '../../parts/help.tsx';
import { readSettingText, writeSettingText } from './setting-text.ts';

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
  const [showsAll, setShowsAll] = useState(false);
  const settings = kind?.settings ?? [];
  const shown = settings.filter(
    (spec) => showsAll || spec.required || plainAt(form, [spec.name]) !== undefined,
  );
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
        <button
          type="button"
          className="button plain small"
          onClick={() => bench.edit([{ kind: 'remove', at }], { label: `${name} taken out` })}
        >
          Take out<span className="unseen"> {name}</span>
        </button>
      </div>
      <p className="quiet small">{kind?.what}</p>
      <div className="instrument-fields">
        {kind?.signals.map((signal) => (
          <DraftField
            key={signal.name}
            label={signal.name === 'of' ? 'looks at' : signal.name}
            written={textAt(form, [signal.name]) ?? ''}
            at={[...at, signal.name]}
            what={`what ${name} looks at`}
            holdsBack
            placeholder={signal.what}
            className="formula"
            toEdits={(to) => [{ kind: 'set', at: [...at, signal.name], to }]}
          />
        ))}
        {shown.map((spec) => (
          <SettingField key={spec.name} instrument={name} form={form} spec={spec} />
        ))}
      </div>
      {settings.length > shown.length || showsAll ? (
        <button
          type="button"
          className="button plain small"
          aria-expanded={showsAll}
          onClick={() => setShowsAll(!showsAll)}
        >
          {showsAll ? 'Only what is set' : `${settings.length - shown.length} more settings`}
        </button>
      ) : null}
      <OtherProblems name={name} kind={kind} />
    </div>
  );
}

function SettingField({
  instrument,
  form,
  spec,
}: {
  readonly instrument: string;
  readonly form: unknown;
  readonly spec: SettingSpec;
}) {
  const bench = useBench();
  const at = ['instruments', instrument, spec.name];
  const written = readSettingText(spec, plainAt(form, [spec.name]));
  const help = (
    <Help about={spec.name}>
      <p>{spec.what}</p>
    </Help>
  );
  if (spec.kind === 'choice') {
    return (
      <div className="setting">
        <Choice
          label={spec.name}
          value={written === '' ? (spec.default ?? spec.options[0] ?? '') : written}
          options={spec.options.map((value) => ({ value, says: value }))}
          onChoose={(to) =>
            bench.edit([{ kind: 'set', at, to }], { label: `${spec.name} of ${instrument}: ${to}` })
          }
        />
        {help}
      </div>
    );
  }
  return (
    <div className="setting">
      <DraftField
        label={spec.name}
        written={written}
        at={at}
        what={`${spec.name} of ${instrument}`}
        holdsBack
        placeholder={'default' in spec && spec.default !== undefined ? `${spec.default} unless said` : ''}
        toEdits={(text) =>
          text.trim() === ''
            ? [{ kind: 'remove', at }]
            : [{ kind: 'set', at, to: writeSettingText(spec, text) }]
        }
      />
      {help}
    </div>
  );
}

/** An instrument whose kind is not known has no fields at which its messages could stand. */
function OtherProblems({ name, kind }: { readonly name: string; readonly kind: InstrumentKind | undefined }) {
  const problems = useBenchState(({ reading }) => reading).problemsAt(['instruments', name]);
  if (kind !== undefined || problems.length === 0) return null;
  return <p className="small problems-line">{problems[0]?.message}</p>;
}
