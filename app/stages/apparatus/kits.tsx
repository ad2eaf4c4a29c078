import { isRecord, recordAt, textAt } from '../../bench/plain.ts';
import { useBench, useBenchState } from '../../bench/use-bench.tsx';
import { AddLine } from '../../parts/add-line.tsx';
import { ChangedInstruments } from '../../parts/changed-instruments.tsx';
import { ChangedSteps } from '../../parts/changed-steps.tsx';
import { EntryField } from '../../parts/entry-field.tsx';
import { NameChoices } from '../../parts/name-choices.tsx';
import { ProblemList } from '../../parts/problem-list.tsx';
import { RenameEntry } from '../../parts/rename-field.tsx';
import { SymbolValues } from '../../parts/symbol-values.tsx';
import { readEntry } from './quantity-entry.ts';
import { UncertaintyFields } from './uncertainty-fields.tsx';

/** What a school may own instead: quantities, instruments and steps that are other with it. */
export function Kits() {
  const bench = useBench();
  const kits = useBenchState(({ reading }) => recordAt(reading.document?.data, ['kits']));
  const symbol = useBenchState(({ lab }) => lab?.quantities.base[0]?.name);
  return (
    <section className="apparatus-part" aria-labelledby="kits-heading">
      <h2 id="kits-heading">Kits</h2>
      <p className="quiet small">
        Equipment that another school may own instead. What the lab expects with each stands under “Adapt” and
        in the teacher guide.
      </p>
      {Object.keys(kits).map((name) => (
        <KitForm key={name} name={name} others={Object.keys(kits).filter((one) => one !== name)} />
      ))}
      {symbol === undefined ? null : (
        <AddLine
          label="Another kit"
          onAdd={(name) =>
            bench.edit([{ kind: 'insert', at: ['kits'], key: name, value: { set: {} } }], {
              label: `${name} added`,
            })
          }
        />
      )}
    </section>
  );
}

function KitForm({ name, others }: { readonly name: string; readonly others: readonly string[] }) {
  const bench = useBench();
  const lab = useBenchState((state) => state.lab);
  const reading = useBenchState((state) => state.reading);
  const at = ['kits', name];
  const owner = `with ${name}`;
  return (
    <div className="instrument">
      <div className="instrument-head">
        <h3>{name}</h3>
        <EntryField
          at={[...at, 'is']}
          label={`What ${name} is`}
          hidesLabel
          holdsBack={false}
          placeholder="what it is"
          className="bare"
        />
        <div className="entry-deeds">
          <RenameEntry at={at} />
          <button
            type="button"
            className="button plain small"
            onClick={() => bench.edit([{ kind: 'remove', at }], { label: `kit ${name} taken out` })}
          >
            Take out<span className="unseen"> kit {name}</span>
          </button>
        </div>
      </div>
      <SymbolValues
        at={[...at, 'set']}
        symbols={lab?.quantities.base ?? []}
        owner={owner}
        placeholder="25 mm"
      >
        {(symbol, form) => (
          <OwnUncertainty at={[...at, 'set', symbol]} symbol={symbol} form={form} owner={owner} />
        )}
      </SymbolValues>
      <ProblemList
        problems={reading
          .problemsAt(at)
          .filter(({ code }) => code === 'kit-changes-nothing' || code === 'rival-kits')}
        hidesPlace
      />
      <details className="form-part">
        <summary>
          Instruments and steps that are other<span className="unseen"> of kit {name}</span>
        </summary>
        <div className="form-part">
          <h4>Instruments</h4>
          <ChangedInstruments at={at} owner={owner} canBeOfOtherKind />
        </div>
        <div className="form-part">
          <h4>Steps from readings to results</h4>
          <ChangedSteps at={at} owner={owner} />
        </div>
        <div className="form-fields">
          {others.length === 0 ? null : (
            <NameChoices
              at={[...at, 'with']}
              names={others}
              label="May be combined with"
              what={`partners of ${name}`}
            />
          )}
        </div>
      </details>
    </div>
  );
}

/** A value of a kit has the uncertainty of the lab, or one of its own. */
function OwnUncertainty({
  at,
  symbol,
  form,
  owner,
}: {
  readonly at: readonly string[];
  readonly symbol: string;
  readonly form: unknown;
  readonly owner: string;
}) {
  const bench = useBench();
  if (isRecord(form)) return <UncertaintyFields entry={readEntry(symbol, form, at)} />;
  const value = textAt(form, []);
  if (value === undefined) return null;
  return (
    <button
      type="button"
      className="button plain small"
      title="It has the uncertainty that the lab states"
      onClick={() =>
        bench.edit([{ kind: 'set', at, to: { value } }], { label: `own uncertainty of ${symbol} ${owner}` })
      }
    >
      ± of its own
      <span className="unseen">
        {' '}
        uncertainty of {symbol} {owner}
      </span>
    </button>
  );
}
