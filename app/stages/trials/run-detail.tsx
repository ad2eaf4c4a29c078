import { recordAt, textAt } from '../../bench/plain.ts';
import { useBench, useBenchState } from '../../bench/use-bench.tsx';
import type { SeenRun } from '../../compute/tasks/trials.ts';
import { Choice } from '../../parts/choice.tsx';
import { DraftField } from '../../parts/draft-field.tsx';
import { EntryField } from '../../parts/entry-field.tsx';
import { ProblemList } from '../../parts/problem-list.tsx';
import { AsRead } from './as-read.tsx';
import { ColumnChoices } from './column-choices.tsx';
import { CountedPart } from './counted-part.tsx';
import { readColumnMap, writeColumnMap } from './match-columns.ts';
import { Recognised } from './recognised.tsx';
import { RunSettings } from './run-settings.tsx';
import { useSeenFile } from './use-seen-file.ts';

/** Everything about one run: what counts of it, its columns and settings, and whether it is used. */
export function RunDetail({
  index,
  name,
  form,
  seen,
  onGone,
}: {
  readonly index: number;
  readonly name: string;
  readonly form: unknown;
  readonly seen: SeenRun | null;
  readonly onGone: () => void;
}) {
  const bench = useBench();
  const at = ['trials', index];
  const words = (key: string, what: string) => ({
    written: textAt(form, [key]) ?? '',
    at: [...at, key],
    what: `${what} of ${name}`,
    holdsBack: false,
    toEdits: (text: string) =>
      text.trim() === ''
        ? [{ kind: 'remove' as const, at: [...at, key] }]
        : [{ kind: 'set' as const, at: [...at, key], to: text }],
  });
  return (
    <div className="run-detail">
      <ProblemList problems={seen?.problems ?? []} />
      <CountedPart index={index} name={name} form={form} seen={seen} />
      <div className="run-fields">
        <DraftField {...words('name', 'name')} label="Name of the run" placeholder={name} />
        <RunSettings index={index} name={name} form={form} />
      </div>
      <FileOfRun index={index} name={name} form={form} />
      <div className="run-fields">
        <DraftField
          {...words('set aside', 'reason')}
          label="Set aside, because"
          placeholder="used; write why it should not be"
          wraps
        />
        <DraftField {...words('note', 'note')} label="A remark for colleagues" wraps />
      </div>
      <p>
        <button
          type="button"
          className="button plain small"
          onClick={() => {
            bench.edit([{ kind: 'remove', at }], { label: `${name} taken out of the lab` });
            onGone();
          }}
        >
          Take {name} out of the lab
        </button>
        <span className="small quiet"> The file stays.</span>
      </p>
    </div>
  );
}

function FileOfRun({
  index,
  name,
  form,
}: {
  readonly index: number;
  readonly name: string;
  readonly form: unknown;
}) {
  const bench = useBench();
  const lab = useBenchState((state) => state.lab);
  const files = useBenchState((state) => state.files);
  const there = files.map(({ path }) => path).filter((path) => path.startsWith('trials/'));
  const at = ['trials', index];
  const file = textAt(form, ['file']) ?? '';
  const { answer, problems } = useSeenFile(file, lab?.trials[index]?.asRead);
  const instruments = lab?.instruments ?? [];
  const map = readColumnMap(recordAt(form, ['reads']), instruments);
  const run = Number(textAt(form, ['run']) ?? 1);
  const runs = answer?.runs ?? 1;
  const columns = answer?.columns.filter((column) => column.run === run || runs === 1) ?? [];
  return (
    <section className="run-file" aria-label={`Columns of ${name}`}>
      <div className="run-fields">
        <Choice
          label="File that it is read from"
          value={file}
          options={[...new Set([file, ...there])].map((path) => ({ value: path, says: path }))}
          onChoose={(to) =>
            bench.edit([{ kind: 'set', at: [...at, 'file'], to }], { label: `${name} read from ${to}` })
          }
        />
        {/\.(xlsx|ods)$/i.test(file) ? (
          <EntryField
            at={[...at, 'sheet']}
            label="Sheet of the workbook"
            what={`sheet of ${name}`}
            placeholder="the first"
          />
        ) : null}
        {runs > 1 ? (
          <Choice
            label="Which run in the file"
            value={String(run)}
            options={Array.from({ length: runs }, (_, i) => ({
              value: String(i + 1),
              says: sayRun(i + 1, answer?.runLabels[i] ?? ''),
            }))}
            onChoose={(to) =>
              bench.edit([{ kind: 'set', at: [...at, 'run'], to: Number(to) }], {
                label: `${name} is run ${to} of ${file}`,
              })
            }
          />
        ) : null}
      </div>
      <ColumnChoices
        instruments={instruments}
        columns={columns}
        map={map}
        onChoose={(next) =>
          bench.edit([{ kind: 'set', at: [...at, 'reads'], to: writeColumnMap(next, instruments) }], {
            label: `columns of ${name}`,
          })
        }
      />
      <ProblemList problems={problems} hidesPlace />
      <details>
        <summary>What the file was taken for</summary>
        {answer === null ? null : <Recognised seen={answer} />}
        <AsRead index={index} name={name} form={form} headings={Object.values(map).flatMap(Object.values)} />
      </details>
    </section>
  );
}

function sayRun(number: number, label: string): string {
  const bare = `run ${number}`;
  return label === '' || label.toLowerCase() === bare ? bare : `${bare}, ${label}`;
}
