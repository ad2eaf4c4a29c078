import type { Place, Problem } from '../problem/index.ts';
import { problem } from '../problem/index.ts';

/** Largest and, besides 0, smallest size of a quantity, SI: far beyond any lab, and squares stay within numbers. */
const LARGEST = 1e100;
const SMALLEST = 1e-100;

/**
 * Checks that a value as written is a number that can be worked with.
 *
 * @param value SI
 * @param what  in words: 'the value of m'
 * @returns the problem, or null where the value is good
 */
export function checkSize(
  value: number,
  written: string | number,
  what: string,
  place: Place,
): Problem | null {
  if (!Number.isFinite(value)) {
    return problem(
      'not-finite',
      place,
      `${capital(what)} is ${String(written)}, which is not a finite number.`,
    );
  }
  const size = Math.abs(value);
  if (size === 0 || (size >= SMALLEST && size <= LARGEST)) return null;
  return problem(
    'out-of-range',
    place,
    `${capital(what)} is ${String(written)}; in SI units it must be 0 or lie between 1e-100 and 1e100.`,
  );
}

function capital(words: string): string {
  return words.charAt(0).toUpperCase() + words.slice(1);
}
