import { useState } from 'react';
import { useBench, useBenchState } from '../bench/use-bench.tsx';
import { ProblemList } from '../parts/problem-list.tsx';
import type { Stage } from '../stages/stage.ts';
import { ClashBar } from './clash-bar.tsx';
import { keepCopy } from './keep-copy.ts';

/** What a person should know before going on, quietly: the server is gone, the lab is a shipped one, a clash. */
export function Bars({ isServerThere, stage }: { readonly isServerThere: boolean; readonly stage: Stage }) {
  const saving = useBenchState((state) => state.saving);
  const hasClash = useBenchState(({ clash }) => clash !== null);
  return (
    <div className="bars" role="status">
      {isServerThere ? null : (
        <p className="bar" data-tone="doubt">
          The bench’s server does not answer. Your edits are kept in this browser and are written when it is
          back.
        </p>
      )}
      {saving.kind === 'refused' ? (
        <div className="bar" data-tone="bad">
          The edits could not be written.
          <ProblemList problems={saving.problems} />
        </div>
      ) : null}
      {saving.kind === 'kept here' ? <KeepCopyBar stage={stage.id} /> : null}
      {hasClash ? <ClashBar /> : null}
      <BrokenBar stage={stage} />
    </div>
  );
}

/** A lab that came with the program is never written: changes live in the browser until a copy is kept. */
function KeepCopyBar({ stage }: { readonly stage: string }) {
  const bench = useBench();
  const [told, setTold] = useState('');
  const [isBusy, setBusy] = useState(false);
  const keep = async (): Promise<void> => {
    setBusy(true);
    const failed = await keepCopy(bench, stage);
    setBusy(false);
    if (failed !== null) setTold(failed);
  };
  return (
    <p className="bar">
      <span>This lab came with Benchwright, so your changes stay in this browser.</span>
      <button type="button" className="button" disabled={isBusy} onClick={() => void keep()}>
        Keep a copy
      </button>
      <button type="button" className="button plain" onClick={() => bench.startOver()}>
        As it came
      </button>
      {told === '' ? null : <span>{told}</span>}
    </p>
  );
}

/** Errors that the stage in view cannot show at a field of its own. */
function BrokenBar({ stage }: { readonly stage: Stage }) {
  const reading = useBenchState((state) => state.reading);
  const lab = useBenchState((state) => state.lab);
  if (reading.lab !== null) return null;
  const own = new Set(stage.edits.flatMap((path) => reading.problemsAt(path)));
  const others = reading.problems.filter((found) => found.severity === 'error' && !own.has(found));
  const from =
    lab === null ? 'Nothing can be computed' : 'What is computed is from the lab as it last made sense';
  return (
    <div className="bar" data-tone="bad">
      <span>
        {from} until {others.length === 0 ? 'what is marked below is mended' : 'this is mended:'}
        {others.length === 0 ? '.' : ''}
      </span>
      <ProblemList problems={others.slice(0, 6)} />
    </div>
  );
}
