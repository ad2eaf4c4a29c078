import { listAt, recordAt, textAt } from '../../bench/plain.ts';
import { useBench, useBenchState } from '../../bench/use-bench.tsx';
import { Choice } from '../../parts/choice.tsx';
import { asNumber, EntryField } from '../../parts/entry-field.tsx';
import { Help } from '../../parts/help.tsx';

/** Pairs of quantities whose errors go together, as two masses weighed on one balance. */
export function Correlations() {
  const bench = useBench();
  const data = useBenchState(({ reading }) => reading.document?.data);
  const pairs = listAt(data, ['correlations']);
  const names = Object.entries(recordAt(data, ['quantities']))
    .filter(([, form]) => !('equals' in recordAt(form, [])))
    .map(([name]) => name);
  if (names.length < 2) return null;
  const [first = '', second = ''] = names;
  const add = (): void => {
    const pair = { between: [first, second], is: 0.5 };
    bench.edit(
      [
        pairs.length === 0
          ? { kind: 'set', at: ['correlations'], to: [pair] }
          : { kind: 'insert', at: ['correlations'], index: pairs.length, value: pair },
      ],
      { label: 'a correlation added' },
    );
  };
  return (
    <section className="apparatus-part" aria-labelledby="correlations-heading">
      <div className="part-head">
        <h2 id="correlations-heading">Errors that go together</h2>
        <Help about="errors that go together">
          <p>
            Two lengths measured with one tape are both too long where the tape is. A correlation of 1 says
            that their errors always go together, −1 that they are opposite, 0 that they have nothing to do
            with each other.
          </p>
        </Help>
      </div>
      {pairs.map((pair, index) => (
        <div key={index} className="correlation">
          {[0, 1].map((side) => (
            <Choice
              key={side}
              label={side === 0 ? `Pair ${index + 1}` : 'and'}
              value={textAt(pair, ['between', side]) ?? ''}
              options={[...new Set([textAt(pair, ['between', side]) ?? '', ...names])].map((value) => ({
                value,
                says: value,
              }))}
              onChoose={(to) =>
                bench.edit([{ kind: 'set', at: ['correlations', index, 'between', side], to }], {
                  label: `pair ${index + 1}`,
                })
              }
            />
          ))}
          <EntryField
            at={['correlations', index, 'is']}
            label="correlation"
            what={`correlation of pair ${index + 1}`}
            form={asNumber}
            isNeeded
          />
          <button
            type="button"
            className="button plain small"
            onClick={() =>
              bench.edit(
                [{ kind: 'remove', at: pairs.length === 1 ? ['correlations'] : ['correlations', index] }],
                { label: `pair ${index + 1} taken out` },
              )
            }
          >
            Take out<span className="unseen"> pair {index + 1}</span>
          </button>
        </div>
      ))}
      <button type="button" className="button plain" onClick={add}>
        {pairs.length === 0 ? 'Name a pair' : 'Another pair'}
      </button>
    </section>
  );
}
