import { formatNumber } from '../../../src/quantity/index.ts';
import { useBench, useBenchState } from '../../bench/use-bench.tsx';
import { Choice } from '../../parts/choice.tsx';
import { DraftField } from '../../parts/draft-field.tsx';
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
