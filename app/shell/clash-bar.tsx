import { useState } from 'react';
import type { EditPlace, LabClash, PlainValue } from '../../src/edit/index.ts';
import { withMine } from '../bench/choose-mine.ts';
import { useBench, useBenchState } from '../bench/use-bench.tsx';

type Side = 'mine' | 'theirs';

/** Places that were changed here and outside: both are shown, and a person chooses for each. */
export function ClashBar() {
  const bench = useBench();
  const clash = useBenchState((state) => state.clash);
  const [chosen, setChosen] = useState<ReadonlyMap<string, Side>>(new Map());
  if (clash === null) return null;
  const settle = (): void => {
    const { merged: text, clashes } = clash;
    const own = clashes.filter(({ at }) => chosen.get(nameOf(at)) === 'mine');
    bench.settle(withMine({ text, clashes }, own));
  };
  const isReady = clash.clashes.every(({ at }) => chosen.has(nameOf(at)));
  return (
    <section className="bar clash" data-tone="doubt" aria-labelledby="clash-heading">
      <h2 id="clash-heading">The file was changed here and outside</h2>
      <p>
        Everything else is brought together already. Choose for each place; nothing is written until then.
      </p>
      {clash.clashes.map((one) => (
        <ClashChoice
          key={nameOf(one.at)}
          clash={one}
          side={chosen.get(nameOf(one.at)) ?? null}
          onChoose={(side) => setChosen(new Map([...chosen, [nameOf(one.at), side]]))}
        />
      ))}
      <button type="button" className="button strong" disabled={!isReady} onClick={settle}>
        Go on with these
      </button>
    </section>
  );
}

function ClashChoice({
  clash,
  side,
  onChoose,
}: {
  readonly clash: LabClash;
  readonly side: Side | null;
  readonly onChoose: (side: Side) => void;
}) {
  const name = nameOf(clash.at);
  const option = (own: Side, says: string, value: PlainValue | undefined) => (
    <label className="clash-side" data-chosen={side === own}>
      <input type="radio" name={`clash ${name}`} checked={side === own} onChange={() => onChoose(own)} />
      <span>{says}</span>
      <code>{sayValue(value)}</code>
    </label>
  );
  return (
    <fieldset className="clash-choice">
      <legend>{name === '' ? 'the whole file' : name}</legend>
      {option('mine', 'here', clash.mine)}
      {option('theirs', 'outside', clash.theirs)}
    </fieldset>
  );
}

function nameOf(at: EditPlace): string {
  return at.map((part) => (typeof part === 'number' ? `number ${part + 1}` : part)).join(' › ');
}

function sayValue(value: PlainValue | undefined): string {
  if (value === undefined) return 'taken out';
  return typeof value === 'string' ? value : JSON.stringify(value);
}
