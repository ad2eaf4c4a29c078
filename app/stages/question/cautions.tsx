import { listAt } from '../../bench/plain.ts';
import { useBench, useBenchState } from '../../bench/use-bench.tsx';
import { AddLine } from '../../parts/add-line.tsx';
import { DraftField } from '../../parts/draft-field.tsx';

/** What can hurt, a sentence each; printed beside the set-up in every document. */
export function Cautions() {
  const bench = useBench();
  const data = useBenchState(({ reading }) => reading.document?.data);
  const cautions = listAt(data, ['cautions']);
  const add = (text: string): void => {
    bench.edit(
      [
        cautions.length === 0
          ? { kind: 'set', at: ['cautions'], to: [text] }
          : { kind: 'insert', at: ['cautions'], index: cautions.length, value: text },
      ],
      { label: 'a caution added' },
    );
  };
  return (
    <section className="cautions">
      <h2>Cautions</h2>
      <p className="quiet small">
        They stand beside the set-up in every document. What the model computes to be dangerous is added by
        itself.
      </p>
      <ol>
        {cautions.map((caution, index) => (
          <li key={index}>
            <DraftField
              label={`Caution ${index + 1}`}
              hidesLabel
              isProse
              written={String(caution)}
              at={['cautions', index]}
              what={`caution ${index + 1}`}
              holdsBack={false}
              toEdits={(text) =>
                text.trim() === ''
                  ? [{ kind: 'remove', at: ['cautions', index] }]
                  : [{ kind: 'set', at: ['cautions', index], to: text }]
              }
            />
            <button
              type="button"
              className="button plain small"
              onClick={() =>
                bench.edit([{ kind: 'remove', at: ['cautions', index] }], {
                  label: `caution ${index + 1} taken out`,
                })
              }
            >
              Take out<span className="unseen"> caution {index + 1}</span>
            </button>
          </li>
        ))}
      </ol>
      <AddLine label="Another caution" onAdd={add} />
    </section>
  );
}
