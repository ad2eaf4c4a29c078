import { useState } from 'react';
import { ledgerFigure } from '../../../src/figure/index.ts';
import { sayVerdict } from '../../../src/reconcile/index.ts';
import { FigureView } from '../../figure/figure-view.tsx';
import { LedgerPicture } from '../../ledger/ledger-picture.tsx';
import { mainLedgers, useLedgers } from '../../ledger/ledger-provider.tsx';
import { LedgerSentence } from '../../ledger/say-ledger.tsx';
import { StillComputed } from '../../ledger/still-computed.tsx';
import { Help } from '../../parts/help.tsx';
import { ProblemList } from '../../parts/problem-list.tsx';
import { SymbolName } from '../../parts/rich.tsx';
import { StillNeeded, useIsWhole } from '../../parts/still-needed.tsx';
import { Waiting } from '../../parts/waiting.tsx';
import { AllSettings } from './all-settings.tsx';
import { Closings } from './closings.tsx';
import { Method } from './method.tsx';
import { OverlayPart } from './overlay-part.tsx';
import './reconcile.css';

/** The ledger as a picture, its verdict in a sentence, what would close the rest, and theory, model and data overlaid. */
export default function ReconcileScreen() {
  const { answer, hasUncertainties, isSettled, problems } = useLedgers();
  const [chosen, setChosen] = useState<number | null>(null);
  const isWhole = useIsWhole();
  if (!isWhole) return <StillNeeded />;
  if (answer === null) {
    return problems.length > 0 ? <ProblemList problems={problems} /> : <Waiting />;
  }
  const speaking = mainLedgers(answer);
  const ledger = (chosen === null ? undefined : answer.ledgers[chosen]) ?? speaking[0];
  if (ledger === undefined)
    return <p className="quiet">The lab names no results yet, so there is nothing to compare.</p>;
  const own = answer.ledgers.filter(({ result }) => result.name === ledger.result.name);
  const verdict = ledger.remainder?.verdict;
  return (
    <div className="reconcile">
      {problems.length > 0 ? <ProblemList problems={problems} /> : null}
      {speaking.length > 1 ? (
        <fieldset className="result-choice" aria-label="Result">
          {speaking.map((one) => (
            <button
              key={one.result.name}
              type="button"
              aria-pressed={one.result.name === ledger.result.name}
              onClick={() => setChosen(answer.ledgers.indexOf(one))}
            >
              <SymbolName name={one.result.name} />
              <span className="small">{one.result.is}</span>
            </button>
          ))}
        </fieldset>
      ) : null}
      <section className="verdict" data-verdict={verdict} aria-label="Verdict">
        <p className="verdict-word">
          {verdict === undefined ? 'Not measured yet' : capitalised(sayVerdict(verdict))}.
        </p>
        <p>
          <LedgerSentence ledger={ledger} hasUncertainties={hasUncertainties} hidesVerdict />
        </p>
      </section>
      <section aria-labelledby="ledger-heading">
        <div className="part-head">
          <h2 id="ledger-heading">From theory to measurement</h2>
          <Help about="the ledger">
            <p>
              The ideal model leaves everything out that theory leaves out. Each effect then moves the result
              by its share: its mean contribution over every order in which the effects could be switched on,
              so that no order is privileged and the shares add up exactly.
            </p>
            <p>
              Thin lines are one standard uncertainty to each side. Switch an effect off to see the others
              without it.
            </p>
          </Help>
        </div>
        <LedgerPicture ledger={ledger} hasUncertainties={hasUncertainties} isSettled={isSettled} />
        <StillComputed />
        <Closings ledger={ledger} />
      </section>
      {own.length > 1 ? (
        <AllSettings
          ledgers={own}
          current={ledger}
          hasUncertainties={hasUncertainties}
          onChoose={(one) => setChosen(answer.ledgers.indexOf(one))}
        />
      ) : null}
      <OverlayPart group={ledger.group} />
      <details className="ledger-figure">
        <summary>The ledger as documents print it</summary>
        <FigureView figure={ledgerFigure(ledger, { language: 'en', decimalMark: '.' })} ratio={0.5} />
      </details>
      <Method method={answer.method} isSettled={isSettled} />
    </div>
  );
}

function capitalised(sentence: string): string {
  return sentence.charAt(0).toUpperCase() + sentence.slice(1);
}
