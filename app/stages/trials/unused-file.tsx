import { useId, useMemo, useState } from 'react';
import type { LabEdit, PlainValue } from '../../../src/edit/index.ts';
import type { LabInstrument } from '../../../src/lab/index.ts';
import type { Problem } from '../../../src/problem/index.ts';
import { listAt, recordAt } from '../../bench/plain.ts';
import { readText } from '../../bench/reading.ts';
import { useBench, useBenchState } from '../../bench/use-bench.tsx';
import type { SeenFile } from '../../compute/tasks/trial-file.ts';
import { ProblemList } from '../../parts/problem-list.tsx';
import { Waiting } from '../../parts/waiting.tsx';
import { ColumnChoices } from './column-choices.tsx';
import { type ColumnMap, guessColumns, readColumnMap, writeColumnMap } from './match-columns.ts';
import { Recognised } from './recognised.tsx';
import { useSeenFile } from './use-seen-file.ts';

/** A file that lies in the lab and that no run is read from: what it was taken for, and how it becomes runs. */
export function UnusedFile({ path, onAdded }: { readonly path: string; readonly onAdded: () => void }) {
  const { answer, problems } = useSeenFile(path, undefined);
  const lab = useBenchState((state) => state.lab);
  return (
    <article className="unused-file" aria-label={path}>
      <h3>{path.replace(/^trials\//, '')}</h3>
      {problems.length > 0 ? (
        <>
          <ProblemList problems={problems} hidesPlace />
          <p className="small quiet">
            The file stays in the folder and does no harm there. Mend it where it comes from and drop it in
            again.
          </p>
        </>
      ) : answer === null ? (
        <Waiting />
      ) : (
        <>
          <Recognised seen={answer} />
          {lab === null ? null : (
            <AddRuns path={path} seen={answer} instruments={lab.instruments} onAdded={onAdded} />
          )}
        </>
      )}
    </article>
  );
}

function AddRuns({
  path,
  seen,
  instruments,
  onAdded,
}: {
  readonly path: string;
  readonly seen: SeenFile;
  readonly instruments: readonly LabInstrument[];
  readonly onAdded: () => void;
}) {
  const bench = useBench();
  const data = useBenchState(({ reading }) => reading.document?.data);
  const guess = useMemo(() => {
    const before = listAt(data, ['trials']).map((form) =>
      readColumnMap(recordAt(form, ['reads']), instruments),
    );
    return guessColumns(instruments, seen.columns, before);
  }, [data, instruments, seen]);
  const [chosen, setChosen] = useState<ColumnMap | null>(null);
  const map = chosen ?? guess;
  const reads = writeColumnMap(map, instruments);
  const [settings, setSettings] = useState<Readonly<Record<string, string>>>({});
  const [problems, setProblems] = useState<readonly Problem[]>([]);
  const varied = [
    ...new Set([
      ...Object.keys(recordAt(data, ['plan', 'settings'])),
      ...listAt(data, ['trials']).flatMap((form) => Object.keys(recordAt(form, ['when']))),
    ]),
  ];
  const when = Object.fromEntries(
    Object.entries(settings).flatMap(([symbol, text]) => (text.trim() === '' ? [] : [[symbol, text.trim()]])),
  );
  const add = (): void => {
    const edits = runsOf(path, seen, Object.keys(when).length === 0 ? { reads } : { reads, when }).map(
      (value): LabEdit => ({ kind: 'insert', at: ['trials'], value }),
    );
    const tried = bench.tryEdit(edits);
    const first = listAt(data, ['trials']).length;
    const found = tried.ok
      ? readText(tried.value)
          .problemsAt(['trials', first])
          .filter(({ severity }) => severity === 'error')
      : tried.problems;
    setProblems(found);
    if (found.length > 0) return;
    bench.edit(edits, { label: seen.runs === 1 ? `${path} as a run` : `${seen.runs} runs of ${path}` });
    onAdded();
  };
  return (
    <div className="add-runs">
      <p className="said">Which column each instrument is read from</p>
      <ColumnChoices instruments={instruments} columns={seen.columns} map={map} onChoose={setChosen} />
      {varied.length === 0 ? null : (
        <div className="run-fields">
          {varied.map((symbol) => (
            <SettingField
              key={symbol}
              symbol={symbol}
              text={settings[symbol] ?? ''}
              onChange={(text) => setSettings({ ...settings, [symbol]: text })}
            />
          ))}
        </div>
      )}
      <ProblemList problems={problems} hidesPlace />
      <button
        type="button"
        className="button strong"
        disabled={Object.keys(reads).length === 0}
        onClick={add}
      >
        {seen.runs === 1 ? 'Use it as a run' : `Use it as ${seen.runs} runs`}
      </button>
    </div>
  );
}

function SettingField({
  symbol,
  text,
  onChange,
}: {
  readonly symbol: string;
  readonly text: string;
  readonly onChange: (text: string) => void;
}) {
  const id = useId();
  return (
    <div>
      <label htmlFor={id} className="said">
        {symbol} when it was taken
      </label>
      <input
        id={id}
        className="field"
        value={text}
        placeholder="as in the apparatus"
        onChange={(event) => onChange(event.target.value)}
      />
    </div>
  );
}

/** A run of the lab for each run in the file, by the file's own labels where it has them. */
function runsOf(path: string, seen: SeenFile, common: Readonly<Record<string, PlainValue>>): PlainValue[] {
  if (seen.runs === 1) return [{ file: path, ...common }];
  const bare = path.replace(/^.*\//, '').replace(/\.[^.]*$/, '');
  return Array.from({ length: seen.runs }, (_, index): PlainValue => {
    const label = seen.runLabels[index] ?? '';
    const name = label === '' ? `${bare} ${index + 1}` : `${bare}, ${label}`;
    return { name, file: path, run: index + 1, ...common };
  });
}
