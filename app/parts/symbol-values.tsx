import { type ReactNode, useState } from 'react';
import type { EditPlace } from '../../src/edit/index.ts';
import { isRecord, recordAt } from '../bench/plain.ts';
import { useBenchState } from '../bench/use-bench.tsx';
import { Choice } from './choice.tsx';
import { EntryField } from './entry-field.tsx';
import { SymbolName } from './rich.tsx';

/** A symbol that may be chosen, with what it stands for. */
export interface ChoosableSymbol {
  readonly name: string;
  readonly is: string;
}

/** Values by symbol, a field each, and the choice of a symbol that has none yet. */
export function SymbolValues({
  at,
  symbols,
  owner,
  another = 'another quantity …',
  placeholder,
  within,
  children,
}: {
  /** Of the map. */
  readonly at: EditPlace;
  readonly symbols: readonly ChoosableSymbol[];
  /** 'with the short chain': behind the symbol in labels and in undo. */
  readonly owner: string;
  readonly another?: string;
  readonly placeholder: string;
  /** What stays when the last value is taken out. */
  readonly within?: EditPlace;
  /** Beside the field of each symbol. */
  readonly children?: (symbol: string, form: unknown) => ReactNode;
}) {
  const set = useBenchState(({ reading }) => recordAt(reading.document?.data, at));
  const [begun, setBegun] = useState<string | null>(null);
  const names = [...Object.keys(set), ...(begun === null || begun in set ? [] : [begun])];
  const free = symbols.filter(({ name }) => !names.includes(name));
  return (
    <div className="symbol-values">
      {names.map((symbol) => {
        const form = set[symbol];
        return (
          <div key={symbol} className="kit-value">
            <SymbolName name={symbol} />
            <EntryField
              at={isRecord(form) ? [...at, symbol, 'value'] : [...at, symbol]}
              label={`${symbol} ${owner}`}
              hidesLabel
              placeholder={placeholder}
              {...(within === undefined ? {} : { within })}
            />
            {children?.(symbol, form)}
          </div>
        );
      })}
      <Choice
        label={`${another.replace(/ …$/, '')} ${owner}`}
        hidesLabel
        value=""
        options={[
          { value: '', says: another },
          ...free.map(({ name, is }) => ({ value: name, says: is === '' ? name : `${name}, ${is}` })),
        ]}
        onChoose={(symbol) => setBegun(symbol === '' ? null : symbol)}
      />
    </div>
  );
}
