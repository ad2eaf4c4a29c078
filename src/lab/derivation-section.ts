import { checkEquation, parseEquation, substitute } from '../expression/index.ts';
import type { Outcome, Problem } from '../problem/index.ts';
import { fail, problem, succeed } from '../problem/index.ts';
import { parseMagnitude } from '../quantity/index.ts';
import type { LabDocument, Path } from './document.ts';
import type { LabForm } from './form.ts';
import type { DerivationLine } from './lab.ts';
import { type ModelSymbols, scopeWith } from './model-symbols.ts';
import { resolveHelpers } from './resolve-helpers.ts';
import type { Surroundings } from './surroundings.ts';

/**
 * Reads the lines of the derivation and checks their dimensions; their truth is checked along the ideal motion.
 *
 * @param symbols what a line may name beside the quantities; null where the model does not even say that
 */
export function readDerivation(
  form: LabForm,
  symbols: ModelSymbols | null,
  around: Surroundings,
): Outcome<readonly DerivationLine[]> {
  if (symbols === null) return succeed([]);
  const { document } = around;
  const { dimensions, trees } = resolveHelpers(symbols.helpers, scopeWith(symbols, around.scope));
  const along = scopeWith(
    { ...symbols, dimensions: new Map([...symbols.dimensions, ...dimensions]) },
    around.scope,
  );
  const problems: Problem[] = [];
  const lines: DerivationLine[] = [];
  for (const [index, line] of (form.derivation ?? []).entries()) {
    const path: Path = ['derivation', index];
    const parsed = parseEquation(line.line, document.originOf([...path, 'line']));
    if (!parsed.ok) {
      problems.push(...parsed.problems);
      continue;
    }
    const { left, right } = parsed.value;
    const checked = checkEquation(parsed.value, along);
    if (!checked.ok) problems.push(...checked.problems);
    const within =
      line.within === undefined ? succeed(0) : readShare(line.within, [...path, 'within'], document);
    if (!within.ok) problems.push(...within.problems);
    if (!checked.ok || !within.ok) continue;
    const equation = {
      left: { ...left, tree: substitute(left.tree, trees) },
      right: { ...right, tree: substitute(right.tree, trees) },
    };
    lines.push({ text: line.line, because: line.because ?? '', equation, within: within.value });
  }
  return problems.length > 0 ? fail(...problems) : succeed(lines);
}

function readShare(written: string | number, path: Path, document: LabDocument): Outcome<number> {
  const share = parseMagnitude(String(written), 'interval', document.originOf(path));
  if (!share.ok) return share;
  const { value, unit } = share.value;
  if (unit.dimension.every((exponent) => exponent === 0) && value > 0 && value < 1) return succeed(value);
  return fail(
    problem(
      'out-of-range',
      document.placeOf(path),
      `"within" is ${String(written)}; it must be a share between 0 and 1, such as 1 %.`,
    ),
  );
}
