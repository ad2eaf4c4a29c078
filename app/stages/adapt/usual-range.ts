import type { BaseQuantity } from '../../../src/lab/index.ts';
import { formatNumber, fromSI } from '../../../src/quantity/index.ts';

/** Two thirds to one and a half of what the lab gives: what another school may well have. */
export function usualRange({ estimate, unit }: BaseQuantity): { readonly from: string; readonly to: string } {
  const value = fromSI(estimate.value, unit, 'point');
  if (value === 0) return { from: '', to: '' };
  const [low = 0, high = 0] = [value / 1.5, value * 1.5].sort((a, b) => a - b);
  const print = (size: number): string =>
    `${formatNumber(size, { significant: 2 }).replace('−', '-')} ${unit.text}`.trim();
  return { from: print(low), to: print(high) };
}
