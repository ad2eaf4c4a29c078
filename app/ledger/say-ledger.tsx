import type { ReactNode } from 'react';
import { fromText } from '../../src/figure/index.ts';
import { formatMeasured, formatNumber, formatUnit, fromSI } from '../../src/quantity/index.ts';
import { type GapLedger, type LedgerValue, sayVerdict } from '../../src/reconcile/index.ts';
import { Rich, SymbolName } from '../parts/rich.tsx';

/** A value with its unit, as it stands in a sentence. */
export function Value({
  si,
  u,
  ledger,
  as = 'point',
}: {
  readonly si: number;
  readonly u: number | null;
  readonly ledger: GapLedger;
  readonly as?: 'point' | 'interval';
}) {
  const { unit } = ledger.result;
  const value = fromSI(si, unit, as);
  const sign = as === 'interval' && value > 0 ? '+' : '';
  const number =
    u === null || !Number.isFinite(u)
      ? formatNumber(value, { significant: as === 'point' ? 4 : 2 })
      : formatMeasured({ value, standardUncertainty: fromSI(u, unit, 'interval'), unit: '' });
  return (
    <span className="value">
      <Rich text={fromText(`${sign}${number} ${formatUnit(unit)}`.trim())} />
    </span>
  );
}

/** The verdict in one sentence, for a reader who looks for five seconds. */
export function LedgerSentence({
  ledger,
  hasUncertainties,
  hidesVerdict = false,
}: {
  readonly ledger: GapLedger;
  readonly hasUncertainties: boolean;
  /** Where the verdict stands above the sentence already, it is not said again. */
  readonly hidesVerdict?: boolean;
}): ReactNode {
  const { theory, ideal, full, measured, remainder, result } = ledger;
  const start = theory ?? ideal;
  const of = <SymbolName name={result.name} />;
  if (measured === null || remainder === null) {
    return (
      <>
        For {of}, theory expects <Value si={start.value} u={null} ledger={ledger} />, the full model{' '}
        <Value si={full.value} u={hasUncertainties ? full.standardUncertainty : null} ledger={ledger} />.
        Nothing has been measured yet.
      </>
    );
  }
  const verdict = hidesVerdict ? '' : `: ${sayVerdict(remainder.verdict).replace(/: .*$/, '')}`;
  const from = theory === null ? 'the ideal model' : 'theory';
  const scale = shareScale(ledger, start);
  if (scale !== null) {
    const gap = (measured.value - start.value) / scale;
    const u = hasUncertainties ? remainder.standardUncertainty / Math.abs(scale) : null;
    return (
      <>
        {of} was measured {sayPercent(Math.abs(gap))} {gap < 0 ? 'below' : 'above'} {from}. The effects
        explain {signed((full.value - start.value) / scale)}; {signed(remainder.value / scale)}
        {u === null ? '' : ` ± ${sayPercent(u)}`} is left{verdict}.
      </>
    );
  }
  return (
    <>
      {of} was measured <Value si={measured.value - start.value} u={null} ledger={ledger} as="interval" /> off{' '}
      {from}. The effects explain{' '}
      <Value si={full.value - start.value} u={null} ledger={ledger} as="interval" />, and{' '}
      <Value
        si={remainder.value}
        u={hasUncertainties ? remainder.standardUncertainty : null}
        ledger={ledger}
        as="interval"
      />{' '}
      is left{verdict}.
    </>
  );
}

/** What per cent are taken of: theory, where it is known well enough to be a scale and has no zero of its own. */
function shareScale({ result }: GapLedger, start: LedgerValue): number | null {
  const hasZero = result.unit.offset === 0;
  const u = Number.isFinite(start.standardUncertainty) ? start.standardUncertainty : 0;
  return hasZero && Math.abs(start.value) > 3 * u && start.value !== 0 ? start.value : null;
}

function sayPercent(share: number): string {
  return `${formatNumber(100 * share, { significant: 2 })}\u00a0%`;
}

function signed(share: number): string {
  return `${share > 0 ? '+' : ''}${sayPercent(share)}`;
}
