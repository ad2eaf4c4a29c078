import type { GapLedger, LedgerValue } from '../../src/reconcile/index.ts';
import type { LedgerAnswer } from '../compute/tasks/ledger.ts';

/**
 * Shares of this moment with the uncertainties that were found last: while a hand moves these change little, and a
 * picture whose whiskers come and go cannot be read.
 *
 * @returns null where the last ledgers are of other results, effects or settings
 */
export function withLastUncertainties(now: LedgerAnswer, last: LedgerAnswer): LedgerAnswer | null {
  if (now.ledgers.length !== last.ledgers.length) return null;
  const ledgers: GapLedger[] = [];
  for (const [index, ledger] of now.ledgers.entries()) {
    const before = last.ledgers[index];
    if (before === undefined || !isAlike(ledger, before)) return null;
    ledgers.push(joined(ledger, before));
  }
  return { ...now, ledgers, method: last.method };
}

function isAlike(one: GapLedger, other: GapLedger): boolean {
  return (
    one.result.name === other.result.name &&
    one.effects.length === other.effects.length &&
    one.effects.every(({ effect }, index) => effect === other.effects[index]?.effect) &&
    (one.measured === null) === (other.measured === null)
  );
}

function joined(now: GapLedger, last: GapLedger): GapLedger {
  const u = <T extends LedgerValue>(value: T, from: LedgerValue | null | undefined): T => ({
    ...value,
    standardUncertainty: from?.standardUncertainty ?? Number.NaN,
  });
  const { remainder } = now;
  return {
    ...now,
    // Runs and shifts of steps hardly change under a hand, and are worked out with the uncertainties only.
    reduction: last.reduction,
    theory: now.theory === null ? null : u(now.theory, last.theory),
    ideal: u(now.ideal, last.ideal),
    full: u(now.full, last.full),
    measured:
      now.measured === null || last.measured === null
        ? now.measured
        : { ...last.measured, value: now.measured.value },
    effects: now.effects.map((share, index) => ({
      ...share,
      standardUncertainty: last.effects[index]?.standardUncertainty ?? Number.NaN,
    })),
    remainder: remainder === null || last.remainder === null ? remainder : judged(remainder, last.remainder),
  };
}

type Remainder = NonNullable<GapLedger['remainder']>;

/** Two and three standard uncertainties, as the verdict has them where the degrees of freedom are many. */
function judged(now: Remainder, last: Remainder): Remainder {
  const z = now.value / last.standardUncertainty;
  const size = Math.abs(z);
  const verdict = Number.isNaN(z)
    ? 'unknown'
    : size < 2
      ? 'explained'
      : size < 3
        ? 'doubtful'
        : 'unexplained';
  return { ...now, standardUncertainty: last.standardUncertainty, z, verdict, closing: last.closing };
}
