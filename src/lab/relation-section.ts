import type { Expression, Scope } from '../expression/index.ts';
import {
  checkDimensions,
  compileColumns,
  namesIn,
  parseEquation,
  sayDimension,
  substitute,
  type Tree,
} from '../expression/index.ts';
import type { Outcome, Problem } from '../problem/index.ts';
import { fail, problem, succeed } from '../problem/index.ts';
import type { Dimension } from '../quantity/index.ts';
import { formatDimension, parseMagnitude, sameDimension } from '../quantity/index.ts';
import type { LabDocument, Path } from './document.ts';
import { checkSymbol } from './identifiers.ts';
import type { InstrumentDraft } from './instrument-draft.ts';
import { type QuantityValues, quantityNames } from './quantity-function.ts';
import type { Helpers, Surroundings } from './surroundings.ts';

/** A model without time, y = f(x): what an instrument would show at each value of the control x. */
export interface Relation {
  readonly output: string;
  readonly outputDimension: Dimension;
  readonly control: string;
  readonly controlDimension: Dimension;
  /** Values of the control in one run, SI. */
  readonly over: Float64Array;
  readonly expression: Expression;
  /** One a signal of the instruments: dimension, and its values at the control's values. */
  readonly signals: readonly {
    readonly dimension: Dimension;
    evaluate(control: Float64Array, values: QuantityValues): Float64Array;
  }[];
}

/** Reads `relation: y = f(x)` with `over: { x: [...] }`, and the signals that instruments read of it. */
export function readRelation(
  written: string,
  over: Readonly<Record<string, readonly (string | number)[]>>,
  helpers: Helpers,
  drafts: readonly InstrumentDraft[],
  around: Surroundings,
): Outcome<Relation> {
  const { document, quantities, tables, scope } = around;
  const path: Path = ['model', 'relation'];
  const equation = parseEquation(written, document.originOf(path));
  if (!equation.ok) return equation;
  const { left, right } = equation.value;
  if (left.tree.kind !== 'name' || left.tree.primes > 0) {
    return fail(
      problem(
        'relation-form',
        document.placeOf(path),
        `A relation reads "y = …" with one symbol on the left; "${left.text.trim()}" stands there.`,
      ),
    );
  }
  const control = readControl(over, document);
  if (!control.ok) return control;
  const { name, dimension, values } = control.value;
  const output = left.tree.name;
  for (const symbol of [name, output]) {
    const bad = checkSymbol(symbol, document.placeOf(path));
    if (bad !== null) return fail(bad);
    if (quantities.byName.has(symbol)) {
      return fail(
        problem(
          'symbol-twice',
          document.placeOf(path),
          `${symbol} is already a quantity; the relation needs a symbol of its own for it.`,
        ),
      );
    }
  }
  const helperTrees = inline(helpers);
  const withControl: Scope = {
    ...scope,
    dimensionOf: (symbol) => (symbol === name ? dimension : scope.dimensionOf(symbol)),
    names: () => [...scope.names(), name, ...helpers.keys()],
  };
  const rightTree = substitute(right.tree, helperTrees);
  const outputDimension = checkDimensions({ ...right, tree: rightTree }, withControl);
  if (!outputDimension.ok) return outputDimension;
  const problems: Problem[] = [];
  const replacements = new Map<string, Tree>([...helperTrees, [output, rightTree]]);
  const columnNames = [name];
  const scalarNames = quantityNames(quantities);
  const signals = drafts.flatMap((draft) =>
    draft.signals.map((signal) => {
      const tree = substitute(signal.expression.tree, replacements);
      const checked = checkDimensions({ ...signal.expression, tree }, withControl);
      if (!checked.ok) {
        problems.push(...checked.problems);
        return { dimension, evaluate: () => new Float64Array(0) };
      }
      const compiled = compileColumns(tree, columnNames, scalarNames, { tables });
      return {
        dimension: checked.value,
        evaluate: (controlValues: Float64Array, quantityValues: QuantityValues) => {
          const out = new Float64Array(controlValues.length);
          compiled([controlValues], quantityValues, out);
          return out;
        },
      };
    }),
  );
  if (problems.length > 0) return fail(...problems);
  return succeed({
    output,
    outputDimension: outputDimension.value,
    control: name,
    controlDimension: dimension,
    over: values,
    expression: { ...right, tree: rightTree },
    signals,
  });
}

function readControl(
  over: Readonly<Record<string, readonly (string | number)[]>>,
  document: LabDocument,
): Outcome<{ readonly name: string; readonly dimension: Dimension; readonly values: Float64Array }> {
  const [entry, ...more] = Object.entries(over);
  const place = document.placeOf(['model', 'over']);
  if (entry === undefined || more.length > 0) {
    const found = entry === undefined ? 'none' : `${more.length + 1} symbols`;
    return fail(
      problem(
        'relation-form',
        place,
        `A relation is read over the values of exactly one symbol, as in "over: { u: [20 cm, 30 cm] }"; found ${found}.`,
      ),
    );
  }
  const [name, list] = entry;
  const problems: Problem[] = [];
  let dimension: Dimension | undefined;
  const values = list.map((written, index) => {
    const path: Path = ['model', 'over', name, index];
    const magnitude = parseMagnitude(String(written), 'point', document.originOf(path));
    if (!magnitude.ok) {
      problems.push(...magnitude.problems);
      return Number.NaN;
    }
    dimension ??= magnitude.value.unit.dimension;
    if (!sameDimension(dimension, magnitude.value.unit.dimension)) {
      problems.push(
        problem(
          'wrong-dimension',
          document.placeOf(path),
          `"${written}" ${sayDimension(magnitude.value.unit.dimension)}; the values before it are of another dimension (${formatDimension(dimension)}).`,
        ),
      );
    }
    return magnitude.value.value;
  });
  if (problems.length > 0) return fail(...problems);
  if (dimension === undefined) return fail(problem('relation-form', place, `"${name}" has no values.`));
  return succeed({ name, dimension, values: Float64Array.from(values) });
}

/** Helper expressions with the helpers they use written out; each may use those that stand before it. */
function inline(helpers: Helpers): ReadonlyMap<string, Tree> {
  const trees = new Map<string, Tree>();
  for (const [name, expression] of helpers) {
    const needed = [...namesIn(expression.tree)].some((symbol) => trees.has(symbol));
    trees.set(name, needed ? substitute(expression.tree, trees) : expression.tree);
  }
  return trees;
}
