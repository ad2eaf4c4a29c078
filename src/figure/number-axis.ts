import type { NumberAxis } from './figure.ts';
import type { RichText } from './rich-text.ts';

/** A linear axis from its data; the rest as given. */
export function numberAxis(quantity: RichText, unit: string, more: Partial<NumberAxis> = {}): NumberAxis {
  return { kind: 'linear', quantity, unit, includes: [], range: null, ...more };
}
