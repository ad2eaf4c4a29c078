import { Suspense, useEffect, useId, useState } from 'react';
import { textAt } from '../bench/plain.ts';
import { useBenchState } from '../bench/use-bench.tsx';
import { LedgerBeside } from '../ledger/ledger-beside.tsx';
import { stages } from '../stages/registry.ts';
import { TextPanel } from '../text/text-panel.tsx';
import { Bars } from './bars.tsx';
import { BenchHeader } from './bench-header.tsx';
import { StageRail } from './stage-rail.tsx';
import { useUndoKeys } from './use-undo-keys.ts';

/** The frame of one lab: its name and deeds above, the stages of the work at the side, the stage in the middle. */
export function BenchFrame({
  stage: asked,
  isServerThere,
}: {
  readonly stage: string;
  readonly isServerThere: boolean;
}) {
  const stage = stages.find(({ id }) => id === asked) ?? stages[0];
  const title = useBenchState(({ reading, folder }) => textAt(reading.document?.data, ['title']) ?? folder);
  const [showsText, setShowsText] = useState(false);
  const textId = useId();
  useUndoKeys();
  useEffect(() => {
    document.title = stage === undefined ? title : `${stage.name} · ${title}`;
  }, [stage, title]);
  if (stage === undefined) return null;
  const { Screen } = stage;
  return (
    <div className="frame">
      <a className="skip" href="#stage">
        To the work
      </a>
      <BenchHeader title={title} textId={textId} showsText={showsText} onShowText={setShowsText} />
      <StageRail current={stage.id} />
      <div className="frame-work" data-beside={stage.hasLedgerBeside} data-text={showsText}>
        <main id="stage" tabIndex={-1}>
          <Bars isServerThere={isServerThere} stage={stage} />
          <header className="stage-head">
            <h1>{stage.name}</h1>
            <p className="quiet">{stage.purpose}</p>
          </header>
          <Suspense fallback={<p className="quiet">One moment …</p>}>
            <Screen />
          </Suspense>
        </main>
        {stage.hasLedgerBeside || showsText ? (
          <div className="frame-side">
            {showsText ? <TextPanel id={textId} /> : null}
            {stage.hasLedgerBeside ? <LedgerBeside /> : null}
          </div>
        ) : null}
      </div>
    </div>
  );
}
