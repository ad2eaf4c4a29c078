import { useBenchState } from '../../bench/use-bench.tsx';
import { DraftField } from '../../parts/draft-field.tsx';
import type { QuantityEntry } from './quantity-entry.ts';
import { useQuantityNow } from './quantity-now.ts';

/** The value of a quantity, as it is given: one value, readings, a place, or an expression with what it gives now. */
export function QuantityValue({ entry }: { readonly entry: QuantityEntry }) {
  const { name } = entry;
  const at = ['quantities', name];
  const live = useBenchState((state) => (state.live?.name === name ? state.live.written : null));
  const text = (key: string, written: string, label: string, placeholder: string, className = '') => (
    <DraftField
      written={written}
      at={[...at, key]}
      what={`${label} of ${name}`}
      label={`${label} of ${name}`}
      hidesLabel
      holdsBack
      placeholder={placeholder}
      className={className}
      toEdits={(to) => [{ kind: 'set', at: [...at, key], to }]}
    />
  );
  switch (entry.source) {
    case 'value':
      return live === null ? (
        text('value', entry.value, 'value', '1.20 m', 'value-field')
      ) : (
        <output className="field value-field is-live">{live}</output>
      );
    case 'observed':
      return (
        <div className="computed-fields">
          <DraftField
            written={entry.observed.join(', ')}
            at={[...at, 'observed']}
            what={`readings of ${name}`}
            label={`readings of ${name}, each with its unit, parted by commas`}
            hidesLabel
            holdsBack
            placeholder="1.20 s, 1.21 s, 1.19 s"
            className="value-field"
            toEdits={(to) => [
              {
                kind: 'set',
                at: [...at, 'observed'],
                to: to
                  .split(/[,;]\s+|;/)
                  .map((one) => one.trim())
                  .filter((one) => one !== ''),
              },
            ]}
          />
          <Now name={name} />
        </div>
      );
    case 'at':
      return (
        <div className="place-fields">
          <PlaceField name={name} part="latitude" written={entry.latitude} placeholder="52.1 degree" />
          <PlaceField name={name} part="height" written={entry.height} placeholder="40 m" />
          <Now name={name} />
        </div>
      );
    case 'equals':
      return (
        <div className="computed-fields">
          {text('equals', entry.equals, 'expression', 'lambda*L', 'value-field formula')}
          <Now name={name} />
        </div>
      );
  }
}

function PlaceField({
  name,
  part,
  written,
  placeholder,
}: {
  readonly name: string;
  readonly part: 'latitude' | 'height';
  readonly written: string;
  readonly placeholder: string;
}) {
  const at = ['quantities', name, 'at', part];
  return (
    <DraftField
      written={written}
      at={at}
      what={`${part} of ${name}`}
      label={part}
      holdsBack
      placeholder={placeholder}
      toEdits={(to) =>
        to.trim() === '' && part === 'height' ? [{ kind: 'remove', at }] : [{ kind: 'set', at, to }]
      }
    />
  );
}

/** What a computed quantity comes to, following what is in the hand. */
function Now({ name }: { readonly name: string }) {
  const now = useQuantityNow(name);
  return now === null ? null : <output className="quantity-now">= {now}</output>;
}
