import { useState } from 'react';
import type { PlainValue } from '../../../src/edit/index.ts';
import { isSymbol } from '../../../src/expression/index.ts';
import { isRecord, plainAt, recordAt } from '../../bench/plain.ts';
import { useBench, useBenchState } from '../../bench/use-bench.tsx';
import { AddLine } from '../../parts/add-line.tsx';
import { Choice } from '../../parts/choice.tsx';
import { EntryField } from '../../parts/entry-field.tsx';
import { Help } from '../../parts/help.tsx';
import { RenameSymbol } from '../../parts/rename-field.tsx';
import { SymbolName } from '../../parts/rich.tsx';
import { describeKey } from '../../parts/schema-help.ts';
import { FormulaRow, useTakeOut } from './formula-row.tsx';
import { Relation } from './relation.tsx';

/** How the states change, or the relation between what is set and what is read, with the helpers both may use. */
export function Equations() {
  const data = useBenchState(({ reading }) => reading.document?.data);
  const isRelation = plainAt(data, ['model', 'relation']) !== undefined;
  return (
    <>
      <ModelKind isRelation={isRelation} />
      {isRelation ? <Relation data={data} /> : <Rates data={data} />}
      <Helpers data={data} />
    </>
  );
}

const KINDS = [
  { value: 'motion', says: 'something that changes in time' },
  { value: 'relation', says: 'a relation without time' },
] as const;

/** Whether the phenomenon changes in time; the other kind begins small, and undo brings the one before back. */
function ModelKind({ isRelation }: { readonly isRelation: boolean }) {
  const bench = useBench();
  const choose = (to: 'motion' | 'relation'): void => {
    if ((to === 'relation') === isRelation) return;
    const model: PlainValue =
      to === 'relation'
        ? { relation: 'y = x', over: { x: [1, 2, 3] } }
        : { start: { x: '0 m', v: '1 m/s' }, rates: { x: 'v', v: '0 m/s^2' }, lasts: '1 s' };
    bench.edit([{ kind: 'set', at: ['model'], to: model }], { label: `the model is ${to}` });
  };
  return (
    <div className="model-kind">
      <Choice
        label="The model is"
        value={isRelation ? 'relation' : 'motion'}
        options={KINDS}
        onChoose={choose}
      />
    </div>
  );
}

function Rates({ data }: { readonly data: unknown }) {
  const bench = useBench();
  const [wrong, setWrong] = useState('');
  const rates = recordAt(data, ['model', 'rates']);
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
            <EntryField
              at={['model', 'start', name]}
              label={`${name} at the start`}
              what={`start of ${name}`}
              className="formula"
              isNeeded
            />
            <FormulaRow
              label={`Rate of change of ${name}`}
              sets={(written) => `${name}' = ${written}`}
              at={['model', 'rates', name]}
            />
          </div>
          <div className="entry-deeds">
            <RenameSymbol name={name} />
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
          sets={(written) => `${name} = ${written}`}
          at={['where', name]}
          onTakeOut={() => takeOut(['where', name], name)}
        />
      ))}
      <AddLine label="Another, such as m_all = m_t + m_c" onAdd={add} />
    </section>
  );
}
