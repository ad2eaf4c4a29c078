import { memo, useState } from 'react';
import { useBench, useBenchState } from '../../bench/use-bench.tsx';
import { DraftField } from '../../parts/draft-field.tsx';
import { SymbolName } from '../../parts/rich.tsx';
import type { QuantityEntry } from './quantity-entry.ts';
import { QuantityMore } from './quantity-more.tsx';
import { QuantitySlider } from './quantity-slider.tsx';
import { QuantityValue } from './quantity-value.tsx';
import { UncertaintyFields } from './uncertainty-fields.tsx';

/** One quantity: symbol, meaning, value, how well it is known, where it is from, and a slider to try others. */
export const QuantityRow = memo(
  function QuantityRow({ entry }: { readonly entry: QuantityEntry }) {
    const bench = useBench();
    const [isOpen, setOpen] = useState(false);
    const isSwitch = useBenchState(
      ({ lab }) =>
        lab?.effects.find(({ off }) => off.some(({ quantity }) => quantity.name === entry.name))?.name ?? '',
    );
    // A place or readings say by themselves where the value is from.
    const told = useBenchState(({ lab }) => lab?.quantities.byName.get(entry.name)?.from ?? '');
    const source = entry.from === '' && told !== '' ? told : 'where the value is from';
    const at = ['quantities', entry.name];
    const words = (key: 'is' | 'from', what: string) => ({
      written: entry[key],
      at: [...at, key],
      what: `${what} of ${entry.name}`,
      holdsBack: false,
      toEdits: (text: string) =>
        text.trim() === ''
          ? [{ kind: 'remove' as const, at: [...at, key] }]
          : [{ kind: 'set' as const, at: [...at, key], to: text }],
    });
    return (
      <li className="quantity-row" data-source={entry.source}>
        <h3 className="quantity-symbol">
          <SymbolName name={entry.name} />
        </h3>
        <div className="quantity-words">
          <DraftField
            {...words('is', 'meaning')}
            label={`What ${entry.name} is`}
            hidesLabel
            placeholder="what it is"
            wraps
            className="bare"
          />
          <DraftField
            {...words('from', 'source')}
            label={`Where ${entry.name} is from`}
            hidesLabel
            placeholder={source}
            wraps
            className="bare quiet small"
          />
          {isSwitch === '' ? null : (
            <p className="small quiet quantity-effect">carries the effect “{isSwitch}”</p>
          )}
        </div>
        <div className="quantity-number">
          <QuantityValue entry={entry} />
          <UncertaintyFields entry={entry} />
          <QuantitySlider name={entry.name} />
        </div>
        <button
          type="button"
          className="button plain quantity-more-mark"
          aria-expanded={isOpen}
          aria-label={`More about ${entry.name}`}
          onClick={() => setOpen(!isOpen)}
        >
          {isOpen ? '−' : '+'}
        </button>
        {isOpen ? (
          <QuantityMore
            entry={entry}
            onRemove={() => bench.edit([{ kind: 'remove', at }], { label: `${entry.name} taken out` })}
          />
        ) : null}
      </li>
    );
  },
  // An entry is made anew from the file each time; it is the same where it says the same.
  (before, after) => JSON.stringify(before.entry) === JSON.stringify(after.entry),
);
