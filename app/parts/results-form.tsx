import { useState } from 'react';
import type { EditPlace } from '../../src/edit/index.ts';
import { isSymbol } from '../../src/expression/index.ts';
import { recordAt } from '../bench/plain.ts';
import { takeOut } from '../bench/take-out.ts';
import { useBench, useBenchState } from '../bench/use-bench.tsx';
import { AddLine } from './add-line.tsx';
import { EntryField } from './entry-field.tsx';
import { Formula } from './formula.tsx';
import { SymbolName } from './rich.tsx';

/** The numbers that are compared: what each is, its unit, and what theory says of it. */
export function ResultsForm({
  at,
  another,
  within = [],
}: {
  /** Of the map of results. */
  readonly at: EditPlace;
  readonly another: string;
  /** What stays when the last result is taken out. */
  readonly within?: EditPlace;
}) {
  const bench = useBench();
  const data = useBenchState(({ reading }) => reading.document?.data);
  const [wrong, setWrong] = useState('');
  const results = Object.entries(recordAt(data, at));
  const add = (name: string): void => {
    if (!isSymbol(name) || results.some(([own]) => own === name)) {
      setWrong(`“${name}” cannot be a result: the symbol that a step gives is wanted, such as k2.`);
      return;
    }
    setWrong('');
    bench.edit([{ kind: 'set', at: [...at, name], to: { unit: '1' } }], { label: `result ${name} added` });
  };
  return (
    <>
      {results.map(([name, form]) => {
        const theory = recordAt(form, []).theory;
        return (
          <div key={name} className="result-form">
            <div className="changed-head">
              <h3>
                <SymbolName name={name} />
              </h3>
              <button
                type="button"
                className="button plain small"
                onClick={() =>
                  bench.edit([takeOut(data, [...at, name], within)], { label: `result ${name} taken out` })
                }
              >
                Take out<span className="unseen"> result {name}</span>
              </button>
            </div>
            <div className="result-fields">
              <EntryField
                at={[...at, name, 'is']}
                label="what it is"
                whose={`of ${name}`}
                what={`what ${name} is`}
                holdsBack={false}
                wraps
              />
              <EntryField
                at={[...at, name, 'unit']}
                label="unit"
                whose={`of ${name}`}
                what={`unit of ${name}`}
                isNeeded
              />
              <EntryField
                at={[...at, name, 'theory']}
                label="what theory says"
                whose={`of ${name}`}
                what={`theory of ${name}`}
                className="formula"
                wraps
                placeholder="a formula of quantities"
              />
            </div>
            {typeof theory === 'string' ? <Formula text={theory} /> : null}
          </div>
        );
      })}
      <AddLine label={another} onAdd={add} />
      {wrong === '' ? null : (
        <p className="problems-line small" role="alert">
          {wrong}
        </p>
      )}
    </>
  );
}
