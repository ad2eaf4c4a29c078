import type { Scope, Tree } from '../expression/index.ts';
import { checkEquation, namesIn, parseEquation, substitute } from '../expression/index.ts';
import type { Outcome, Problem } from '../problem/index.ts';
import { fail, problem, succeed } from '../problem/index.ts';
import type { Dimension } from '../quantity/index.ts';
import { parseMagnitude, unknownDimension } from '../quantity/index.ts';
import type { LabDocument, Path } from './document.ts';
import type { LabForm } from './form.ts';
import type { DerivationLine } from './lab.ts';
import type { LabModel } from './model-section.ts';
import type { Helpers, Surroundings } from './surroundings.ts';
import { timeDimension } from './time-dimension.ts';

/**
 * Reads the lines of the derivation and checks their dimensions; their truth is checked along the ideal motion.
 *
 * @param model null where it has problems of its own: its symbols are then known by name only
 */
export function readDerivation(
  form: LabForm,
  model: LabModel | null,
  around: Surroundings,
): Outcome<readonly DerivationLine[]> {
  const { document, scope } = around;
  const symbols = model === null ? symbolsByName(form) : symbolsOf(model);
  if (symbols === null) return succeed([]);
  const along: Scope = {
    ...scope,
    dimensionOf: (name) => symbols.dimensions.get(name) ?? scope.dimensionOf(name),
    names: () => [...scope.names(), ...symbols.dimensions.keys()],
    primes: symbols.states,
  };
  const helperTrees = new Map<string, Tree>([...symbols.helpers].map(([name, { tree }]) => [name, tree]));
  const problems: Problem[] = [];
  const lines: DerivationLine[] = [];
  for (const [index, line] of (form.derivation ?? []).entries()) {
    const path: Path = ['derivation', index];
    const parsed = parseEquation(line.line, document.originOf([...path, 'line']));
    if (!parsed.ok) {
      problems.push(...parsed.problems);
      continue;
    }
    const equation = {
      left: { ...parsed.value.left, tree: inlineAll(parsed.value.left.tree, helperTrees) },
      right: { ...parsed.value.right, tree: inlineAll(parsed.value.right.tree, helperTrees) },
    };
    const checked = checkEquation(equation, along);
    if (!checked.ok) problems.push(...checked.problems);
    const within =
      line.within === undefined ? succeed(0) : readShare(line.within, [...path, 'within'], document);
    if (!within.ok) problems.push(...within.problems);
    if (checked.ok && within.ok)
      lines.push({ text: line.line, because: line.because ?? '', equation, within: within.value });
  }
  return problems.length > 0 ? fail(...problems) : succeed(lines);
}

/** What a line may name beside the quantities. */
interface ModelSymbols {
  readonly dimensions: ReadonlyMap<string, Dimension>;
  /** Names that may bear primes. */
  readonly states: ReadonlySet<string>;
  readonly helpers: Helpers;
}

function symbolsOf(model: LabModel): ModelSymbols {
  if (model.kind === 'motion') {
    const { stateNames } = model.model;
    const dimensions = stateNames.map((name) => [name, model.model.dimensionOfState(name)] as const);
    return {
      dimensions: new Map([...dimensions, ['t', timeDimension]]),
      states: new Set(stateNames),
      helpers: model.helpers,
    };
  }
  const dimensions: (readonly [string, Dimension])[] =
    model.kind === 'relation'
      ? [
          [model.relation.control, model.relation.controlDimension],
          [model.relation.output, model.relation.outputDimension],
        ]
      : [];
  return { dimensions: new Map(dimensions), states: new Set(), helpers: new Map() };
}

/** The symbols of a model that could not be read; null where it does not even say which they are. */
function symbolsByName({ model, where }: LabForm): ModelSymbols | null {
  if (model?.rates === undefined) return null;
  const states = Object.keys(model.rates);
  const names = [...states, ...Object.keys(where ?? {})];
  return {
    dimensions: new Map([...names.map((name) => [name, unknownDimension] as const), ['t', timeDimension]]),
    states: new Set(states),
    helpers: new Map(),
  };
}

function inlineAll(tree: Tree, helpers: ReadonlyMap<string, Tree>): Tree {
  let inlined = tree;
  while ([...namesIn(inlined)].some((symbol) => helpers.has(symbol))) inlined = substitute(inlined, helpers);
  return inlined;
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
