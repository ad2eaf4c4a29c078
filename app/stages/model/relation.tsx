import { useState } from 'react';
import { isSymbol } from '../../../src/expression/index.ts';
import { recordAt } from '../../bench/plain.ts';
import { useBench } from '../../bench/use-bench.tsx';
import { AddLine } from '../../parts/add-line.tsx';
import { asList, EntryField } from '../../parts/entry-field.tsx';
import { Help } from '../../parts/help.tsx';
import { describeKey } from '../../parts/schema-help.ts';
import { FormulaRow } from './formula-row.tsx';

/** A model without time: the equation, and the values that are set in one run. */
export function Relation({ data }: { readonly data: unknown }) {
  const bench = useBench();
  const [wrong, setWrong] = useState('');
  const over = Object.keys(recordAt(data, ['model', 'over']));
  const add = (name: string): void => {
    if (!isSymbol(name) || over.includes(name)) {
      setWrong(`“${name}” cannot be what is set: a symbol such as q is wanted, not used yet.`);
      return;
    }
    setWrong('');
    bench.edit([{ kind: 'set', at: ['model', 'over', name], to: [1, 2, 3] }], {
      label: `${name} is set in a run`,
    });
  };
  return (
    <section aria-labelledby="relation-heading">
      <div className="part-head">
        <h2 id="relation-heading">What follows from what is set</h2>
        <Help about="the relation">
          <p>{describeKey(['model', 'relation'])}</p>
        </Help>
      </div>
      <FormulaRow label="The relation" at={['model', 'relation']} />
      {over.map((name) => (
        <EntryField
          key={name}
          at={['model', 'over', name]}
          within={['model']}
          label={`Values of ${name} that are set in one run`}
          what={`values of ${name}`}
          form={asList}
        />
      ))}
      <AddLine label="Something else that is set in a run, by its symbol" onAdd={add} />
      {wrong === '' ? null : (
        <p className="problems-line small" role="alert">
          {wrong}
        </p>
      )}
    </section>
  );
}
