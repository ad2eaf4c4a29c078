import { isRecord, recordAt } from '../../bench/plain.ts';
import { takeOut } from '../../bench/take-out.ts';
import { useBench, useBenchState } from '../../bench/use-bench.tsx';
import { Choice } from '../../parts/choice.tsx';
import { asList, asNumber, EntryField } from '../../parts/entry-field.tsx';
import { describeKey } from '../../parts/schema-help.ts';

const AT = ['stations', 'drawn'];

/** Stations whose values are drawn: from what, how many, and by which seed. */
export function DrawnForm() {
  const bench = useBench();
  const data = useBenchState(({ reading }) => reading.document?.data);
  const lab = useBenchState((state) => state.lab);
  const values = recordAt(data, [...AT, 'values']);
  const free = lab?.quantities.base.filter(({ name }) => !(name in values)) ?? [];
  const draw = (name: string): void => {
    const unit = lab?.quantities.base.find((quantity) => quantity.name === name)?.unit.text ?? '';
    const range = { from: `1 ${unit}`.trim(), to: `2 ${unit}`.trim() };
    bench.edit([{ kind: 'set', at: [...AT, 'values', name], to: range }], { label: `${name} is drawn` });
  };
  const change = (name: string, to: string): void => {
    const from = values[name];
    if (to === 'none') {
      bench.edit([takeOut(data, [...AT, 'values', name], ['stations'])], { label: `${name} is not drawn` });
      return;
    }
    const [first = '', last = first] = isRecord(from) ? [from.from, from.to].map(String) : listOf(from);
    bench.edit(
      [
        {
          kind: 'set',
          at: [...AT, 'values', name],
          to: to === 'list' ? [first, last] : { from: first, to: last },
        },
      ],
      { label: `${name} is drawn from a ${to}` },
    );
  };
  return (
    <div>
      <h3>Drawn stations</h3>
      <p className="quiet small">{describeKey(AT)}</p>
      {Object.entries(values).map(([symbol, from]) => (
        <div key={symbol} className="station-fields">
          <Choice
            label={`${symbol} is drawn from`}
            value={isRecord(from) ? 'range' : 'list'}
            options={[
              { value: 'list', says: 'a list' },
              { value: 'range', says: 'a range' },
              { value: 'none', says: 'nothing: not drawn' },
            ]}
            onChoose={(to) => change(symbol, to)}
          />
          {isRecord(from) ? (
            ['from', 'to', 'step'].map((key) => (
              <EntryField
                key={key}
                at={[...AT, 'values', symbol, key]}
                label={key === 'step' ? 'in whole steps of' : key}
                what={`${symbol} ${key}`}
                isNeeded={key !== 'step'}
                className="short"
              />
            ))
          ) : (
            <EntryField
              at={[...AT, 'values', symbol]}
              within={['stations']}
              label="values, with commas between them"
              what={`values of ${symbol} to draw from`}
              form={asList}
            />
          )}
        </div>
      ))}
      <div className="station-fields">
        <Choice
          label="Another quantity that is drawn"
          value=""
          options={[
            { value: '', says: 'choose one …' },
            ...free.map(({ name, is }) => ({ value: name, says: `${name}, ${is}` })),
          ]}
          onChoose={(name) => (name === '' ? undefined : draw(name))}
        />
        {Object.keys(values).length === 0
          ? null
          : (['groups', 'seed'] as const).map((key) => (
              <EntryField
                key={key}
                at={[...AT, key]}
                label={key === 'groups' ? 'how many are drawn' : 'seed'}
                form={asNumber}
                placeholder={key === 'groups' ? '8' : '1'}
                className="short"
              />
            ))}
      </div>
    </div>
  );
}

function listOf(value: unknown): readonly string[] {
  return Array.isArray(value) ? [String(value[0]), String(value.at(-1))] : [];
}
