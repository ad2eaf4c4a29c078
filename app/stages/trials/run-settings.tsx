import { useState } from 'react';
import { listAt, recordAt, textAt } from '../../bench/plain.ts';
import { useBenchState } from '../../bench/use-bench.tsx';
import { Choice } from '../../parts/choice.tsx';
import { DraftField } from '../../parts/draft-field.tsx';

/** The settings under which a run was taken: a field for each quantity that the lab varies. */
export function RunSettings({
  index,
  name,
  form,
}: {
  readonly index: number;
  readonly name: string;
  readonly form: unknown;
}) {
  const data = useBenchState(({ reading }) => reading.document?.data);
  const lab = useBenchState((state) => state.lab);
  const [more, setMore] = useState<readonly string[]>([]);
  const own = recordAt(form, ['when']);
  const varied = listAt(data, ['trials']).flatMap((one) => Object.keys(recordAt(one, ['when'])));
  const planned = Object.keys(recordAt(data, ['plan', 'settings']));
  const names = [...new Set([...planned, ...varied, ...Object.keys(own), ...more])];
  const others = lab?.quantities.base.filter((quantity) => !names.includes(quantity.name)) ?? [];
  return (
    <>
      {names.map((symbol) => {
        const at = ['trials', index, 'when', symbol];
        const isOnly = Object.keys(own).length === 1 && symbol in own;
        return (
          <DraftField
            key={symbol}
            label={`${symbol} in this run`}
            written={textAt(own, [symbol]) ?? ''}
            at={at}
            what={`${symbol} in ${name}`}
            holdsBack
            placeholder="as in the apparatus"
            toEdits={(text) =>
              text.trim() === ''
                ? [{ kind: 'remove', at: isOnly ? ['trials', index, 'when'] : at }]
                : [{ kind: 'set', at, to: text.trim() }]
            }
          />
        );
      })}
      <Choice
        label="Another quantity that was other in this run"
        value=""
        options={[
          { value: '', says: 'another quantity …' },
          ...others.map((quantity) => ({ value: quantity.name, says: `${quantity.name}, ${quantity.is}` })),
        ]}
        onChoose={(symbol) => setMore(symbol === '' ? more : [...more, symbol])}
      />
    </>
  );
}
