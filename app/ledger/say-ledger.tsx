import type { ReactNode } from 'react';
import { fromText } from '../../src/figure/index.ts';
import { formatMeasured, formatNumber, formatUnit, fromSI } from '../../src/quantity/index.ts';
import { type GapLedger, sayVerdict } from '../../src/reconcile/index.ts';
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
      ? formatNumber(value, { significant: 4 })
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
}: {
  readonly ledger: GapLedger;
  readonly hasUncertainties: boolean;
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
  const verdict = sayVerdict(remainder.verdict);
  return (
    <>
      {of} was measured <Value si={measured.value - start.value} u={null} ledger={ledger} as="interval" /> off{' '}
      {theory === null ? 'the ideal model' : 'theory'}. Effects explain{' '}
      <Value si={full.value - start.value} u={null} ledger={ledger} as="interval" />, and{' '}
      <Value
        si={remainder.value}
        u={hasUncertainties ? remainder.standardUncertainty : null}
        ledger={ledger}
        as="interval"
      />{' '}
      is left: {verdict.replace(/: .*$/, '')}.
    </>
  );
}
