import { FUNCTIONS, isSymbol } from '../expression/index.ts';
import type { Place, Problem } from '../problem/index.ts';
import { problem } from '../problem/index.ts';

const RESERVED: ReadonlyMap<string, string> = new Map([
  ['t', 'time'],
  ['pi', 'the number π'],
  ['and', 'a word of conditions'],
  ['or', 'a word of conditions'],
  ['not', 'a word of conditions'],
]);

/**
 * Checks that a name can stand as a symbol in expressions.
 *
 * @returns the problem, or null where the name is good
 */
export function checkSymbol(name: string, place: Place): Problem | null {
  if (!isSymbol(name)) {
    return problem(
      'not-a-symbol',
      place,
      `"${name}" cannot be a symbol: a symbol is a letter followed by letters, digits or underscores, such as m_c or θ₀.`,
    );
  }
  const meaning = RESERVED.get(name) ?? (Object.hasOwn(FUNCTIONS, name) ? 'a function' : undefined);
  if (meaning === undefined) return null;
  return problem(
    'reserved-symbol',
    place,
    `"${name}" already means ${meaning}; choose another symbol, such as ${name}_1.`,
  );
}
