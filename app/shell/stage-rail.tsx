import { useEffect, useRef } from 'react';
import { useBenchState } from '../bench/use-bench.tsx';
import { useLedgers } from '../ledger/ledger-provider.tsx';
import { stages } from '../stages/registry.ts';
import type { Stage } from '../stages/stage.ts';
import { RouteLink } from './route-link.tsx';

/** The stages of the work, each with a word on how it stands. */
export function StageRail({ current }: { readonly current: string }) {
  const rail = useRef<HTMLElement>(null);
  // On a narrow screen the rail is a line that may be longer than the screen.
  useEffect(() => {
    const entry = current === '' ? null : rail.current?.querySelector('[aria-current="page"]');
    entry?.scrollIntoView({ block: 'nearest', inline: 'nearest' });
  }, [current]);
  return (
    <nav ref={rail} className="rail" aria-label="Stages of the work">
      <ol>
        {stages.map((stage) => (
          <li key={stage.id}>
            <RailEntry stage={stage} isCurrent={stage.id === current} />
          </li>
        ))}
      </ol>
    </nav>
  );
}

function RailEntry({ stage, isCurrent }: { readonly stage: Stage; readonly isCurrent: boolean }) {
  const id = useBenchState((state) => state.id);
  const ledgers = useLedgers();
  const says = useBenchState((state) => stage.says(state, ledgers));
  const errors = useBenchState(
    ({ reading }) =>
      stage.edits.flatMap((path) => reading.problemsAt(path)).filter(({ severity }) => severity === 'error')
        .length,
  );
  return (
    <RouteLink to={{ kind: 'lab', id, stage: stage.id }} className="rail-entry" isCurrent={isCurrent}>
      <span className="rail-name">{stage.name}</span>
      {errors > 0 ? (
        <span className="rail-says rail-errors">
          {errors === 1 ? '1 thing to mend' : `${errors} things to mend`}
        </span>
      ) : (
        <span className="rail-says">{says}</span>
      )}
    </RouteLink>
  );
}
