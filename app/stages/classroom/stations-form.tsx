import { useState } from 'react';
import type { Problem } from '../../../src/problem/index.ts';
import { recordAt, textAt } from '../../bench/plain.ts';
import { useBench, useBenchState } from '../../bench/use-bench.tsx';
import { AddLine } from '../../parts/add-line.tsx';
import { Choice } from '../../parts/choice.tsx';
import { DraftField } from '../../parts/draft-field.tsx';
import { ProblemList } from '../../parts/problem-list.tsx';
import { SymbolName } from '../../parts/rich.tsx';
import { scrollsByKeys } from '../../parts/scrolls-by-keys.ts';

/** Keys among the stations that are no station. */
const OTHERS: readonly string[] = ['drawn', 'pooled'];

/** The stations that are listed, a row each, a column for each quantity that some station sets. */
export function StationsForm() {
  const bench = useBench();
  const data = useBenchState(({ reading }) => reading.document?.data);
  const lab = useBenchState((state) => state.lab);
  const [begun, setBegun] = useState<string | null>(null);
  const [refused, setRefused] = useState<readonly Problem[]>([]);
  const stations = Object.keys(recordAt(data, ['stations'])).filter((name) => !OTHERS.includes(name));
  const set = stations.flatMap((name) => Object.keys(recordAt(data, ['stations', name])));
  const symbols = [...new Set(begun === null ? set : [...set, begun])];
  const settable = lab?.quantities.base.filter(({ name }) => !symbols.includes(name)) ?? [];
  return (
    <>
      {stations.length === 0 ? null : (
        <div {...scrollsByKeys('The stations')}>
          <table className="settings-table stations-table">
            <caption className="unseen">Stations that are listed</caption>
            <thead>
              <tr>
                <th scope="col">station</th>
                {symbols.map((symbol) => (
                  <th key={symbol} scope="col">
                    <SymbolName name={symbol} />
                  </th>
                ))}
                <th scope="col">
                  <span className="unseen">deeds</span>
                </th>
              </tr>
            </thead>
            <tbody>
              {stations.map((name) => (
                <tr key={name}>
                  <th scope="row">{name}</th>
                  {symbols.map((symbol) => (
                    <td key={symbol}>
                      <StationValue name={name} symbol={symbol} data={data} />
                    </td>
                  ))}
                  <td>
                    <button
                      type="button"
                      className="button plain small"
                      onClick={() =>
                        bench.edit([{ kind: 'remove', at: ['stations', name] }], {
                          label: `station ${name} taken out`,
                        })
                      }
                    >
                      Take out<span className="unseen"> station {name}</span>
                    </button>
                  </td>
                </tr>
              ))}
            </tbody>
          </table>
        </div>
      )}
      <div className="station-fields">
        <AddLine
          label="Another station"
          onAdd={(name) =>
            setRefused(
              bench.edit([{ kind: 'insert', at: ['stations'], key: name, value: {} }], {
                label: `station ${name} added`,
              }),
            )
          }
        />
        {stations.length === 0 ? null : (
          <Choice
            label="Another quantity that stations set"
            value=""
            options={[
              { value: '', says: 'choose one …' },
              ...settable.map(({ name, is }) => ({ value: name, says: `${name}, ${is}` })),
            ]}
            onChoose={(name) => setBegun(name === '' ? null : name)}
          />
        )}
      </div>
      <ProblemList problems={refused} hidesPlace />
    </>
  );
}

function StationValue({
  name,
  symbol,
  data,
}: {
  readonly name: string;
  readonly symbol: string;
  readonly data: unknown;
}) {
  const at = ['stations', name, symbol];
  return (
    <DraftField
      label={`${symbol} at station ${name}`}
      hidesLabel
      written={textAt(data, at) ?? ''}
      at={at}
      what={`${symbol} at station ${name}`}
      holdsBack
      placeholder="as in the lab"
      className="short"
      toEdits={(to) => (to.trim() === '' ? [{ kind: 'remove', at }] : [{ kind: 'set', at, to }])}
    />
  );
}
