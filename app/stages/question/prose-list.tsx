import { useId } from 'react';
import { listAt } from '../../bench/plain.ts';
import { useBench, useBenchState } from '../../bench/use-bench.tsx';
import { AddLine } from '../../parts/add-line.tsx';
import { EntryField } from '../../parts/entry-field.tsx';

/** Sentences in a list of the file: each to be written, taken out, and added to. */
export function ProseList({
  name,
  heading,
  about,
  one,
}: {
  readonly name: 'cautions' | 'references';
  readonly heading: string;
  readonly about: string;
  /** 'caution': in labels and in undo. */
  readonly one: string;
}) {
  const bench = useBench();
  const id = useId();
  const list = useBenchState(({ reading }) => listAt(reading.document?.data, [name]));
  const add = (text: string): void => {
    bench.edit(
      [
        list.length === 0
          ? { kind: 'set', at: [name], to: [text] }
          : { kind: 'insert', at: [name], index: list.length, value: text },
      ],
      { label: `a ${one} added` },
    );
  };
  const placeOf = (index: number) => (list.length === 1 ? [name] : [name, index]);
  return (
    <section className="prose-list" aria-labelledby={id}>
      <h2 id={id}>{heading}</h2>
      <p className="quiet small">{about}</p>
      <ol>
        {list.map((_, index) => (
          <li key={index}>
            <EntryField
              at={[name, index]}
              within={[]}
              label={`${one} ${index + 1}`}
              hidesLabel
              isProse
              holdsBack={false}
            />
            <button
              type="button"
              className="button plain small"
              onClick={() =>
                bench.edit([{ kind: 'remove', at: placeOf(index) }], {
                  label: `${one} ${index + 1} taken out`,
                })
              }
            >
              Take out
              <span className="unseen">
                {' '}
                {one} {index + 1}
              </span>
            </button>
          </li>
        ))}
      </ol>
      <AddLine label={`Another ${one}`} onAdd={add} />
    </section>
  );
}
