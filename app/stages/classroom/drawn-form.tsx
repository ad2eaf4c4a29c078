import type { Path } from '../../../src/lab/index.ts';
import { isRecord, listAt, recordAt, textAt } from '../../bench/plain.ts';
import { useBenchState } from '../../bench/use-bench.tsx';
import { DraftField } from '../../parts/draft-field.tsx';
import { describeKey } from '../../parts/schema-help.ts';

/** Stations whose values are drawn: from what, how many, and by which seed. Shown where the lab draws some. */
export function DrawnForm() {
  const data = useBenchState(({ reading }) => reading.document?.data);
  const at = ['stations', 'drawn'];
  const values = recordAt(data, [...at, 'values']);
  if (Object.keys(values).length === 0) return null;
  return (
    <div>
      <h3>Drawn stations</h3>
      <p className="quiet small">{describeKey(at)}</p>
      <div className="station-fields">
        {Object.entries(values).flatMap(([symbol, from]) =>
          isRecord(from) ? (
            ['from', 'to', 'step'].map((key) => (
              <Field
                key={`${symbol} ${key}`}
                label={`${symbol} ${key}`}
                written={textAt(from, [key]) ?? ''}
                at={[...at, 'values', symbol, key]}
              />
            ))
          ) : (
            <p key={symbol}>
              {symbol} is one of {listAt(values, [symbol]).map(String).join(', ')}.
            </p>
          ),
        )}
        {['groups', 'seed'].map((key) => (
          <Field
            key={key}
            label={key === 'groups' ? 'how many are drawn' : 'seed'}
            written={textAt(data, [...at, key]) ?? ''}
            at={[...at, key]}
            isWhole
          />
        ))}
      </div>
    </div>
  );
}

function Field({
  label,
  written,
  at,
  isWhole = false,
}: {
  readonly label: string;
  readonly written: string;
  readonly at: Path;
  readonly isWhole?: boolean;
}) {
  return (
    <DraftField
      label={label}
      written={written}
      at={at}
      what={label}
      holdsBack
      className="short"
      toEdits={(text) => {
        if (text.trim() === '') return [{ kind: 'remove', at }];
        // What is no number stays as it was typed, so that the message tells what was found.
        return [{ kind: 'set', at, to: isWhole && /^\d+$/.test(text.trim()) ? Number(text) : text }];
      }}
    />
  );
}
