import { useState } from 'react';
import { formatNumber } from '../../../src/quantity/index.ts';
import { recordAt, textAt } from '../../bench/plain.ts';
import { useBench, useBenchState } from '../../bench/use-bench.tsx';
import { Choice } from '../../parts/choice.tsx';
import { DraftField } from '../../parts/draft-field.tsx';
import { asNumber, EntryField } from '../../parts/entry-field.tsx';
import { RenameSymbol } from '../../parts/rename-field.tsx';
import { SymbolName } from '../../parts/rich.tsx';
import { describeKey } from '../../parts/schema-help.ts';
import { type QuantityEntry, SOURCE_WORDS, type ValueSource } from './quantity-entry.ts';
import { statementsOf, useQuantityNow } from './quantity-now.ts';
import { switchSource } from './switch-source.ts';

const SOURCES = ['value', 'observed', 'at', 'equals'] as const;

/** What a row has no room for: how the value comes about, its printed unit, what its uncertainty is made of. */
export function QuantityMore({
  entry,
  onRemove,
}: {
  readonly entry: QuantityEntry;
  readonly onRemove: () => void;
}) {
  const bench = useBench();
  const now = useQuantityNow(entry.name);
  const at = ['quantities', entry.name];
  const choose = (source: ValueSource): void => {
    if (source !== entry.source)
      bench.edit(switchSource(entry, source, now), { label: `${entry.name} as ${SOURCE_WORDS[source]}` });
  };
  return (
    <div className="quantity-more">
      <Choice
        label="How the value comes about"
        value={entry.source}
        options={SOURCES.map((value) => ({ value, says: SOURCE_WORDS[value] }))}
        onChoose={choose}
      />
      {entry.source === 'equals' ? (
        <DraftField
          written={entry.unit}
          at={[...at, 'unit']}
          what={`unit of ${entry.name}`}
          label="Unit in which it is printed"
          holdsBack
          placeholder="g"
          toEdits={(to) =>
            to.trim() === ''
              ? [{ kind: 'remove', at: [...at, 'unit'] }]
              : [{ kind: 'set', at: [...at, 'unit'], to }]
          }
        />
      ) : null}
      <RenameSymbol name={entry.name} />
      {entry.uncertainties.some(({ kind }) => kind === 'u') ? (
        <EntryField
          at={[...at, 'dof']}
          label="Degrees of freedom of u"
          what={`degrees of freedom of ${entry.name}`}
          form={asNumber}
          placeholder="very many"
        />
      ) : null}
      {entry.source === 'equals' ? null : <EachRun name={entry.name} />}
      <Budget name={entry.name} />
      <p className="small quiet">
        {describeKey(['quantities', entry.name, entry.uncertainties[0]?.kind ?? entry.source])}
      </p>
      <button type="button" className="button plain small" onClick={onRemove}>
        Take {entry.name} out
      </button>
    </div>
  );
}

const EACH_RUN = [
  { value: 'none', says: 'the same in every run' },
  { value: 'u', says: 'scatters, standard u' },
  { value: 'within', says: 'lies within ±' },
  { value: 'reading', says: 'set to a scale step' },
] as const;
type EachRunKind = (typeof EACH_RUN)[number]['value'];

/** Whether a quantity is another one in each run, as a height that is set by hand: a mean over runs then knows it better. */
function EachRun({ name }: { readonly name: string }) {
  const bench = useBench();
  const at = ['quantities', name, 'each run'];
  const data = useBenchState(({ reading }) => reading.document?.data);
  const stated = Object.keys(recordAt(data, at));
  const kind = EACH_RUN.find(({ value }) => stated.includes(value))?.value ?? 'none';
  const [begun, setBegun] = useState<EachRunKind>('none');
  const shown = kind === 'none' ? begun : kind;
  const choose = (to: EachRunKind): void => {
    setBegun(to);
    const written = textAt(data, [...at, kind]);
    if (kind === 'none' || to === kind) return;
    bench.edit(
      [
        to === 'none' || written === undefined
          ? { kind: 'remove', at }
          : { kind: 'set', at, to: { [to]: written } },
      ],
      { label: `${name} from run to run` },
    );
  };
  return (
    <>
      <Choice label={`${name} from run to run`} value={shown} options={EACH_RUN} onChoose={choose} />
      {shown === 'none' ? null : (
        <EntryField
          at={[...at, shown]}
          within={['quantities', name]}
          label={EACH_RUN.find(({ value }) => value === shown)?.says ?? ''}
          what={`${name} from run to run`}
          placeholder="2 mm"
        />
      )}
    </>
  );
}

/** What makes up the uncertainty of a computed quantity. */
function Budget({ name }: { readonly name: string }) {
  const lab = useBenchState((state) => state.lab);
  const statement =
    lab === null ? undefined : statementsOf(lab).find(({ quantity }) => quantity.name === name);
  if (statement === undefined || statement.quantity.kind === 'base') return null;
  const lines = statement.budget.filter(({ share }) => Math.abs(share) >= 0.005);
  if (lines.length === 0) return null;
  return (
    <p className="small">
      Its uncertainty comes from{' '}
      {lines.map(({ from, share }, index) => (
        <span key={from}>
          {index === 0 ? '' : ', '}
          <SymbolName name={from} /> ({formatNumber(100 * share, { decimals: 0 })} %)
        </span>
      ))}
      .
    </p>
  );
}
