import type { GapLedger } from './gap-ledger.ts';

/**
 * What changes of a ledger are told in per cent of: the size of its ideal value, SI; null where that is no scale,
 * because theory says nought or because it lies within three standard uncertainties of nought.
 */
export function percentScale({ theory, ideal }: Pick<GapLedger, 'theory' | 'ideal'>): number | null {
  const size = Math.abs(ideal.value);
  return theory?.value !== 0 && size > 3 * ideal.standardUncertainty ? size : null;
}
