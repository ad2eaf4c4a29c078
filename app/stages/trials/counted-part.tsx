import { useMemo, useState } from 'react';
import type { OutsideReadings } from '../../../src/lab/index.ts';
import { recordAt, textAt } from '../../bench/plain.ts';
import { useBench, useLabSource } from '../../bench/use-bench.tsx';
import type { AlongAxis } from '../../compute/tasks/trial-readings.ts';
import type { SeenRun } from '../../compute/tasks/trials.ts';
import { useTask } from '../../compute/use-task.ts';
import { FigureView } from '../../figure/figure-view.tsx';
import { DraftField } from '../../parts/draft-field.tsx';
import { ProblemList } from '../../parts/problem-list.tsx';
import { Toggle } from '../../parts/toggle.tsx';
import { Waiting } from '../../parts/waiting.tsx';
import { writeEnd, writeStretch } from './counted-stretch.ts';

const HEIGHTS = [0.42, 0.62] as const;

/** The raw readings of a run, and which part of them counts: dragged over on the figure, or given by its two ends. */
export function CountedPart({
  index,
  name,
  form,
  seen,
}: {
  readonly index: number;
  readonly name: string;
  readonly form: unknown;
  readonly seen: SeenRun | null;
}) {
  const bench = useBench();
  const source = useLabSource();
  const question = useMemo(() => (source === null ? null : { source, index }), [source, index]);
  const { answer, problems, isWorking } = useTask('follow', 'trial readings', question);
  const [marks, setMarks] = useState(true);
  const at = ['trials', index, 'counts'];
  const counts = recordAt(form, ['counts']);
  const hasEnds = Object.keys(counts).length > 0;
  const mark = (along: AlongAxis, from: number, to: number): void => {
    const written = writeStretch(along, from, to);
    if (written !== null)
      bench.edit([{ kind: 'set', at, to: written }], { label: `part of ${name} that counts` });
    else if (hasEnds) bench.edit([{ kind: 'remove', at }], { label: `all of ${name} counts` });
  };
  const end = (side: 'from' | 'to') => ({
    written: textAt(counts, [side]) ?? '',
    at: [...at, side],
    what: `where ${name} counts ${side}`,
    holdsBack: true,
    toEdits: (text: string) =>
      text.trim() === ''
        ? [{ kind: 'remove' as const, at: Object.keys(counts).length === 1 ? at : [...at, side] }]
        : [{ kind: 'set' as const, at: [...at, side], to: writeEnd(text) }],
  });
  return (
    <section className="counted-part" aria-label={`What counts of ${name}`}>
      {answer === null && problems.length === 0 ? <Waiting /> : null}
      {answer?.map(({ instrument, figure, along }) => (
        <FigureView
          key={instrument}
          figure={figure}
          ratio={figure.panels.length > 1 ? HEIGHTS[1] : HEIGHTS[0]}
          isStale={isWorking}
          {...(marks ? { onMark: (from: number, to: number) => mark(along, from, to) } : {})}
        >
          <Toggle isOn={marks} onToggle={setMarks}>
            Dragging marks what counts
          </Toggle>
        </FigureView>
      ))}
      {/* Where the file itself cannot be read, the run has said so already. */}
      {seen?.readings === null ? null : <ProblemList problems={problems} />}
      <div className="counted-ends">
        <DraftField {...end('from')} label="It counts from" placeholder="the first reading" />
        <DraftField {...end('to')} label="to" placeholder="the last reading" />
        <button
          type="button"
          className="button"
          disabled={!hasEnds}
          onClick={() => bench.edit([{ kind: 'remove', at }], { label: `all of ${name} counts` })}
        >
          All of it counts
        </button>
      </div>
      <p className="small quiet">
        {seen === null || seen.readings === null ? '' : sayCounted(seen.readings, seen.outside)} A time such
        as 0.31 s, or the number of a reading.
      </p>
    </section>
  );
}

function sayCounted(readings: number, outside: readonly OutsideReadings[]): string {
  const before = outside.reduce((sum, one) => sum + one.before, 0);
  const behind = outside.reduce((sum, one) => sum + one.behind, 0);
  const left = before + behind === 0 ? '' : `; ${before} before and ${behind} behind it are set aside`;
  return `${readings} readings count${left}.`;
}
