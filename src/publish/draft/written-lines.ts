import { parseEquation } from '../../expression/index.ts';
import type { DerivationLine, Lab } from '../../lab/index.ts';

/**
 * The lines of the derivation as their author wrote them: the lab holds them with every helper expression put in, which
 * is what can be computed and not what anybody wants to read.
 */
export function writtenLines({ derivation }: Lab): readonly DerivationLine[] {
  return derivation.map((line) => {
    const written = parseEquation(line.text);
    return written.ok ? { ...line, equation: written.value } : line;
  });
}
