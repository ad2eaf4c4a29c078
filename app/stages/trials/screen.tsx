import { useMemo, useState } from 'react';
import { listAt, textAt } from '../../bench/plain.ts';
import { useBenchState, useLabSource } from '../../bench/use-bench.tsx';
import { useTask } from '../../compute/use-task.ts';
import { Help } from '../../parts/help.tsx';
import { ProblemList } from '../../parts/problem-list.tsx';
import { RunRow } from './run-row.tsx';
import { TakeFiles } from './take-files.tsx';
import { UnusedFile } from './unused-file.tsx';
import './trials.css';

/** Files of readings come in, become runs of the lab, and show what they give. */
export default function TrialsScreen() {
  const source = useLabSource();
  const data = useBenchState(({ reading }) => reading.document?.data);
  const files = useBenchState((state) => state.files);
  const question = useMemo(() => (source === null ? null : { source }), [source]);
  const { answer, answered, problems, isWorking } = useTask('follow', 'trials', question);
  const [open, setOpen] = useState<number | null>(null);
  const forms = listAt(data, ['trials']);
  const used = new Set(forms.map((form) => textAt(form, ['file'])));
  const unused = files.filter(({ path }) => path.startsWith('trials/') && !used.has(path));
  const isOld = isWorking || answered !== question;
  return (
    <div className="trials">
      <TakeFiles />
      {unused.length === 0 ? null : (
        <section aria-labelledby="unused-heading">
          <h2 id="unused-heading">Files that no run uses yet</h2>
          {unused.map(({ path }) => (
            <UnusedFile key={path} path={path} onAdded={() => setOpen(forms.length)} />
          ))}
        </section>
      )}
      <section aria-labelledby="runs-heading" data-busy={isOld}>
        <div className="part-head">
          <h2 id="runs-heading">Runs</h2>
          <Help about="runs">
            <p>
              A run is one go of the experiment. The file that it is read from is never changed: what is
              marked, set aside or taken out is said in the lab file alone.
            </p>
          </Help>
        </div>
        {problems.length > 0 ? <ProblemList problems={problems} /> : null}
        {forms.length === 0 ? (
          <p className="quiet">No run yet. Put a file of readings in, and say what its columns are.</p>
        ) : (
          <ul className="run-rows">
            {forms.map((form, index) => (
              <RunRow
                key={index}
                index={index}
                form={form}
                seen={answer?.length === forms.length ? (answer[index] ?? null) : null}
                isOpen={open === index}
                onToggle={() => setOpen(open === index ? null : index)}
                onGone={() => setOpen(null)}
              />
            ))}
          </ul>
        )}
      </section>
    </div>
  );
}
