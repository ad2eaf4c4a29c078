import type { GapLedger, LedgerValue } from './gap-ledger.ts';

/** Rounding and the tolerance of the motion, 1e-9 a step, together stay below this share of what a ledger speaks of. */
const ROUNDING = 1e-8;

/**
 * A ledger for people, in which a value that is nothing but rounding is nought: where theory says 0, the ideal model
 * gives 1e-9 of the shares or less, and its uncertainty is as empty.
 */
export function withoutRounding(ledger: GapLedger): GapLedger {
  const { theory, ideal, effects, full, measured } = ledger;
  const scale = Math.max(
    ...[theory, ideal, full, measured].map((one) => Math.abs(one?.value ?? 0)),
    ...effects.map(({ share }) => Math.abs(share)),
  );
  const least = ROUNDING * scale;
  const clean = <T extends LedgerValue>(one: T): T => ({
    ...one,
    value: Math.abs(one.value) < least ? 0 : one.value,
    standardUncertainty: one.standardUncertainty < least ? 0 : one.standardUncertainty,
  });
  return {
    ...ledger,
    theory: theory === null ? null : clean(theory),
    ideal: clean(ideal),
    full: clean(full),
  };
}
