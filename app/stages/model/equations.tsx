import { useState } from 'react';
import { isSymbol } from '../../../src/expression/index.ts';
import { isRecord, plainAt, recordAt, textAt } from '../../bench/plain.ts';
import { useBench, useBenchState } from '../../bench/use-bench.tsx';
import { AddLine } from '../../parts/add-line.tsx';
import { DraftField } from '../../parts/draft-field.tsx';
import { Help } from '../../parts/help.tsx';
import { SymbolName } from '../../parts/rich.tsx';
import { describeKey } from '../../parts/schema-help.ts';
import { FormulaRow, useTakeOut } from './formula-row.tsx';

/** How the states change, or the relation between what is set and what is read, with the helpers both may use. */
export function Equations() {
  const data = useBenchState(({ reading }) => reading.document?.data);
  const isRelation = plainAt(data, ['model', 'relation']) !== undefined;
  return (
    <>
      {isRelation ? <Relation data={data} /> : <Rates data={data} />}
      <Helpers data={data} />
    </>
  );
}

function Rates({ data }: { readonly data: unknown }) {
  const bench = useBench();
  const [wrong, setWrong] = useState('');
  const rates = recordAt(data, ['model', 'rates']);
  const start = recordAt(data, ['model', 'start']);
  const add = (name: string): void => {
    if (!isSymbol(name) || name in rates) {
      setWrong(`“${name}” cannot be a new state: a symbol such as x or omega is wanted, not used yet.`);
      return;
    }
    setWrong('');
    bench.edit(
      [
        { kind: 'set', at: ['model', 'start', name], to: '0' },
        { kind: 'set', at: ['model', 'rates', name], to: '0' },
      ],
      { label: `state ${name} added` },
    );
  };
  return (
    <section aria-labelledby="rates-heading">
      <div className="part-head">
        <h2 id="rates-heading">How it moves</h2>
        <Help about="rates">
          <p>{describeKey(['model', 'rates'])}</p>
          <p>
            Plain notation: * for times, ^ for powers, and functions such as sin, sqrt, abs, dry(F, v) for dry
            friction. Everything is checked for its dimension.
          </p>
        </Help>
      </div>
      {Object.keys(rates).map((name) => (
        <div key={name} className="state">
          <h3>
            <SymbolName name={name} />
          </h3>
          <div className="state-formulas">
            <DraftField
              label={`${name} at the start`}
              written={textAt(start, [name]) ?? ''}
              at={['model', 'start', name]}
              what={`start of ${name}`}
              holdsBack
              className="formula"
              toEdits={(to) => [{ kind: 'set', at: ['model', 'start', name], to }]}
            />
            <FormulaRow
              label={`Rate of change of ${name}`}
              written={textAt(rates, [name]) ?? ''}
              sets={`${name}' = ${textAt(rates, [name]) ?? ''}`}
              at={['model', 'rates', name]}
            />
          </div>
          <button
            type="button"
            className="button plain small"
            onClick={() =>
              bench.edit(
                [
                  { kind: 'remove', at: ['model', 'rates', name] },
                  { kind: 'remove', at: ['model', 'start', name] },
                ],
                { label: `state ${name} taken out` },
              )
            }
          >
            Take out<span className="unseen"> {name}</span>
          </button>
        </div>
      ))}
      <AddLine label="Another state, by its symbol" onAdd={add} />
      {wrong === '' ? null : (
        <p className="problems-line small" role="alert">
          {wrong}
        </p>
      )}
    </section>
  );
}

function Relation({ data }: { readonly data: unknown }) {
  const over = recordAt(data, ['model', 'over']);
  const written = textAt(data, ['model', 'relation']) ?? '';
  return (
    <section aria-labelledby="relation-heading">
      <div className="part-head">
        <h2 id="relation-heading">What follows from what is set</h2>
        <Help about="the relation">
          <p>{describeKey(['model', 'relation'])}</p>
        </Help>
      </div>
      <FormulaRow label="The relation" written={written} at={['model', 'relation']} />
      {Object.entries(over).map(([name, values]) => (
        <DraftField
          key={name}
          label={`Values of ${name} that are set in one run`}
          written={Array.isArray(values) ? values.map(String).join(', ') : ''}
          at={['model', 'over', name]}
          what={`values of ${name}`}
          holdsBack
          toEdits={(text) => [
            {
              kind: 'set',
              at: ['model', 'over', name],
              to: text
                .split(/[,;]\s+|;/)
                .map((part) => part.trim())
                .filter((part) => part !== ''),
            },
          ]}
        />
      ))}
    </section>
  );
}

function Helpers({ data }: { readonly data: unknown }) {
  const bench = useBench();
  const takeOut = useTakeOut();
  const where = plainAt(data, ['where']);
  const helpers = isRecord(where) ? Object.keys(where) : [];
  const add = (text: string): void => {
    const [name = '', ...rest] = text.split('=');
    const value = rest.join('=').trim();
    bench.edit([{ kind: 'set', at: ['where', name.trim()], to: value === '' ? '0' : value }], {
      label: `${name.trim()} added`,
    });
  };
  return (
    <section aria-labelledby="where-heading">
      <h2 id="where-heading">Where</h2>
      <p className="quiet small">{describeKey(['where'])}</p>
      {helpers.map((name) => (
        <FormulaRow
          key={name}
          label={name}
          written={textAt(where, [name]) ?? ''}
          sets={`${name} = ${textAt(where, [name]) ?? ''}`}
          at={['where', name]}
          onTakeOut={() => takeOut(['where', name], name)}
        />
      ))}
      <AddLine label="Another, such as m_all = m_t + m_c" onAdd={add} />
    </section>
  );
}
