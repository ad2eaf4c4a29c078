import { useState } from 'react';
import { isSymbol } from '../../../src/expression/index.ts';
import { recordAt } from '../../bench/plain.ts';
import { useBench, useBenchState } from '../../bench/use-bench.tsx';
import { AddLine } from '../../parts/add-line.tsx';
import { EntryField, type EntryForm } from '../../parts/entry-field.tsx';
import { Help } from '../../parts/help.tsx';
import { RenameSymbol } from '../../parts/rename-field.tsx';
import { SymbolName } from '../../parts/rich.tsx';
import { useTakeOut } from './formula-row.tsx';

/** Tables of points that formulas look up: a calibration, a force over a stretch. */
export function Tables() {
  const bench = useBench();
  const takeOut = useTakeOut();
  const [wrong, setWrong] = useState('');
  const tables = Object.keys(useBenchState(({ reading }) => recordAt(reading.document?.data, ['tables'])));
  const add = (name: string): void => {
    if (!isSymbol(name) || tables.includes(name)) {
      setWrong(`“${name}” cannot be a new table: a symbol such as pull is wanted, not used yet.`);
      return;
    }
    setWrong('');
    const to = {
      x: { unit: 'm' },
      y: { unit: 'N' },
      points: [
        [0, 0],
        [1, 1],
      ],
    };
    bench.edit([{ kind: 'set', at: ['tables', name], to }], { label: `table ${name} added` });
  };
  return (
    <section aria-labelledby="tables-heading">
      <div className="part-head">
        <h2 id="tables-heading">Tables</h2>
        <Help about="tables">
          <p>
            Points that were measured or published, joined by straight lines. A formula looks one up as
            interpolate(pull, x); x must have the unit of the first column.
          </p>
        </Help>
      </div>
      {tables.map((name) => {
        const at = ['tables', name];
        return (
          <div key={name} className="effect">
            <div className="effect-head">
              <h3>
                <SymbolName name={name} />
              </h3>
              <div className="entry-deeds">
                <RenameSymbol name={name} />
                <button
                  type="button"
                  className="button plain small"
                  onClick={() => takeOut(tables.length === 1 ? ['tables'] : at, `table ${name}`)}
                >
                  Take out<span className="unseen"> table {name}</span>
                </button>
              </div>
            </div>
            <div className="form-fields">
              <EntryField
                at={[...at, 'is']}
                label="What it holds"
                what={`what ${name} holds`}
                holdsBack={false}
              />
              <EntryField
                at={[...at, 'from']}
                label="Where it is from"
                what={`source of ${name}`}
                holdsBack={false}
              />
              <EntryField
                at={[...at, 'x', 'unit']}
                label="Unit of the first column"
                what={`first unit of ${name}`}
                isNeeded
              />
              <EntryField
                at={[...at, 'y', 'unit']}
                label="Unit of the second column"
                what={`second unit of ${name}`}
                isNeeded
              />
              <div className="wide">
                <EntryField
                  at={[...at, 'points']}
                  label="Points, one in a line"
                  what={`points of ${name}`}
                  form={asPoints}
                  isProse
                  isNeeded
                  className="formula"
                />
              </div>
            </div>
          </div>
        );
      })}
      <AddLine label="Another table, by its symbol" onAdd={add} />
      {wrong === '' ? null : (
        <p className="problems-line small" role="alert">
          {wrong}
        </p>
      )}
    </section>
  );
}

/** Two numbers in a line, as they are copied from a spreadsheet or typed. */
const asPoints: EntryForm = {
  show: (value) =>
    Array.isArray(value)
      ? value.map((point) => (Array.isArray(point) ? point.map(String).join('  ') : String(point))).join('\n')
      : '',
  read: (text) =>
    text
      .split('\n')
      .filter((line) => line.trim() !== '')
      .map((line) =>
        line
          .trim()
          .split(/[\s;]+/)
          .map((cell) => (Number.isFinite(Number(cell)) ? Number(cell) : cell)),
      ),
};
