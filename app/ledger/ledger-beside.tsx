import { useState } from 'react';
import { useBenchState } from '../bench/use-bench.tsx';
import { Choice } from '../parts/choice.tsx';
import { ProblemList } from '../parts/problem-list.tsx';
import { StillNeeded, useIsWhole } from '../parts/still-needed.tsx';
import { Waiting } from '../parts/waiting.tsx';
import { RouteLink } from '../shell/route-link.tsx';
import { LedgerPicture } from './ledger-picture.tsx';
import { mainLedgers, useLedgers } from './ledger-provider.tsx';
import { MotionBeside } from './motion-beside.tsx';
import { LedgerSentence } from './say-ledger.tsx';
import { StillComputed } from './still-computed.tsx';

/** The ledger in sight while something else is worked on: beside it on a wide screen, below it on a narrow one. */
export function LedgerBeside() {
  const { answer, hasUncertainties, isSettled, problems } = useLedgers();
  const [chosen, setChosen] = useState('');
  const [isOpen, setOpen] = useState(false);
  const id = useBenchState((state) => state.id);
  const isWhole = useIsWhole();
  const ledgers = answer === null ? [] : mainLedgers(answer);
  const ledger = ledgers.find(({ result }) => result.name === chosen) ?? ledgers[0];
  return (
    <aside className="beside" aria-label="The ledger" data-open={isOpen}>
      <div className="beside-head">
        <h2>
          <RouteLink to={{ kind: 'lab', id, stage: 'reconcile' }}>The ledger</RouteLink>
        </h2>
        {ledgers.length > 1 ? (
          <Choice
            label="Result"
            hidesLabel
            value={ledger?.result.name ?? ''}
            options={ledgers.map(({ result }) => ({ value: result.name, says: result.name }))}
            onChoose={setChosen}
          />
        ) : null}
        <button
          type="button"
          className="button plain beside-open"
          aria-expanded={isOpen}
          onClick={() => setOpen(!isOpen)}
        >
          {isOpen ? 'Less' : 'More'}
        </button>
      </div>
      {!isWhole ? (
        <StillNeeded />
      ) : ledger === undefined ? (
        problems.length > 0 ? (
          <ProblemList problems={problems} />
        ) : (
          <Waiting />
        )
      ) : (
        <>
          <p className="beside-sentence" data-verdict={ledger.remainder?.verdict}>
            <LedgerSentence ledger={ledger} hasUncertainties={hasUncertainties} />
          </p>
          <div className="beside-picture">
            <LedgerPicture ledger={ledger} hasUncertainties={hasUncertainties} isSettled={isSettled} />
          </div>
          <StillComputed />
          {problems.length > 0 ? <ProblemList problems={problems} /> : null}
        </>
      )}
      <MotionBeside />
    </aside>
  );
}
