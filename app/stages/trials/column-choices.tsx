import type { LabInstrument } from '../../../src/lab/index.ts';
import type { SeenColumn } from '../../compute/tasks/trial-file.ts';
import { Choice } from '../../parts/choice.tsx';
import { type ColumnMap, rawColumnsOf } from './match-columns.ts';

/** For each raw column of each instrument a choice among the columns of the file. */
export function ColumnChoices({
  instruments,
  columns,
  map,
  onChoose,
}: {
  readonly instruments: readonly LabInstrument[];
  readonly columns: readonly SeenColumn[];
  readonly map: ColumnMap;
  readonly onChoose: (map: ColumnMap) => void;
}) {
  const headings = [...new Set(columns.map(({ heading }) => heading))];
  return (
    <div className="column-choices">
      {instruments.flatMap((instrument) =>
        rawColumnsOf(instrument).map(({ name }) => {
          const own = map[instrument.name] ?? {};
          const value = own[name] ?? '';
          const known = value === '' || headings.includes(value) ? headings : [value, ...headings];
          return (
            <Choice
              key={`${instrument.name} ${name}`}
              label={`${instrument.name}: ${name}`}
              value={value}
              options={[
                { value: '', says: 'not read' },
                ...known.map((heading) => ({ value: heading, says: heading })),
              ]}
              onChoose={(heading) => onChoose({ ...map, [instrument.name]: { ...own, [name]: heading } })}
            />
          );
        }),
      )}
    </div>
  );
}
