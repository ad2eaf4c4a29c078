import { type FormEvent, useState } from 'react';
import type { LabEdit } from '../../../src/edit/index.ts';
import type { Problem } from '../../../src/problem/index.ts';
import { readText } from '../../bench/reading.ts';
import { useBench } from '../../bench/use-bench.tsx';
import { ProblemList } from '../../parts/problem-list.tsx';

/** A new quantity: its symbol, what it is, and a value with its unit or an expression of others. */
export function AddQuantity({ names }: { readonly names: readonly string[] }) {
  const bench = useBench();
  const [symbol, setSymbol] = useState('');
  const [is, setIs] = useState('');
  const [value, setValue] = useState('');
  const [problems, setProblems] = useState<readonly Problem[]>([]);
  const isTaken = names.includes(symbol.trim());
  const add = (event: FormEvent): void => {
    event.preventDefault();
    const name = symbol.trim();
    const key = /^[-+−]?[\d.]/.test(value.trim()) ? 'value' : 'equals';
    const edits: readonly LabEdit[] = [
      {
        kind: 'insert',
        at: ['quantities'],
        key: name,
        value: { ...(is.trim() === '' ? {} : { is: is.trim() }), [key]: value.trim() },
      },
    ];
    const tried = bench.tryEdit(edits);
    const found = tried.ok
      ? readText(tried.value)
          .problemsAt(['quantities', name])
          .filter(({ severity }) => severity === 'error')
      : tried.problems;
    setProblems(found);
    if (found.length > 0) return;
    bench.edit(edits, { label: `${name} added` });
    setSymbol('');
    setIs('');
    setValue('');
  };
  return (
    <form className="add-quantity" onSubmit={add}>
      <label>
        <span className="said">Another symbol</span>
        <input
          className="field"
          value={symbol}
          placeholder="m_2"
          onChange={(event) => setSymbol(event.target.value)}
        />
      </label>
      <label>
        <span className="said">What it is</span>
        <input
          className="field"
          value={is}
          placeholder="mass of the second trolley"
          onChange={(event) => setIs(event.target.value)}
        />
      </label>
      <label>
        <span className="said">Value with its unit, or an expression</span>
        <input
          className="field"
          value={value}
          placeholder="250 g"
          onChange={(event) => setValue(event.target.value)}
        />
      </label>
      <button
        type="submit"
        className="button"
        disabled={symbol.trim() === '' || value.trim() === '' || isTaken}
      >
        Add
      </button>
      {isTaken ? <p className="small quiet">{symbol} is there already.</p> : null}
      <ProblemList problems={problems} hidesPlace />
    </form>
  );
}
