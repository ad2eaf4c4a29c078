import type { Expression, Scope } from '../expression/index.ts';
import {
  checkDimensions,
  compileColumns,
  parseEquation,
  sayDimension,
  substitute,
  type Tree,
} from '../expression/index.ts';
import type { Outcome, Problem } from '../problem/index.ts';
import { fail, problem, succeed } from '../problem/index.ts';
import type { Dimension, Unit } from '../quantity/index.ts';
import { formatDimension, parseMagnitude, sameDimension } from '../quantity/index.ts';
import type { LabDocument, Path } from './document.ts';
import { checkSymbol } from './identifiers.ts';
import type { InstrumentDraft } from './instrument-draft.ts';
import { type QuantityValues, quantityNames } from './quantity-function.ts';
import { resolveHelpers } from './resolve-helpers.ts';
import type { Helpers, Surroundings } from './surroundings.ts';
import { symbolsBehind } from './symbols-behind.ts';

/** A model without time, y = f(x): what an instrument would show at each value of the control x. */
export interface Relation {
  readonly output: string;
  readonly outputDimension: Dimension;
  readonly control: string;
  readonly controlDimension: Dimension;
  /** The unit in which the author gives the first of its values. */
  readonly controlUnit: Unit;
  /** Values of the control in one run, SI. */
  readonly over: Float64Array;
  readonly expression: Expression;
  /** The same as the author wrote it, with the names of helper expressions in it. */
  readonly written: Expression;
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
  const { name, unit, values } = control.value;
  const { dimension } = unit;
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
  const known = new Map([[name, dimension]]);
  const withControl = widen(scope, known);
  // Helpers may stand before the relation, in it, or say more of what comes out of it.
  const later = new Map([...helpers].filter(([, helper]) => symbolsBehind([helper], helpers).has(output)));
  const before = resolveHelpers(new Map([...helpers].filter(([symbol]) => !later.has(symbol))), withControl);
  for (const [helper, ofHelper] of before.dimensions) known.set(helper, ofHelper);
  const outputDimension = checkDimensions(right, withControl);
  if (!outputDimension.ok) return fail(...before.problems, ...outputDimension.problems);
  known.set(output, outputDimension.value);
  const after = resolveHelpers(later, withControl);
  for (const [helper, ofHelper] of after.dimensions) known.set(helper, ofHelper);
  const problems: Problem[] = [...before.problems, ...after.problems];
  const rightTree = substitute(right.tree, before.trees);
  const ofControl = new Map<string, Tree>([...before.trees, [output, rightTree]]);
  const replacements = new Map(ofControl);
  for (const [symbol, tree] of after.trees) replacements.set(symbol, substitute(tree, ofControl));
  const columnNames = [name];
  const scalarNames = quantityNames(quantities);
  const signals = drafts.flatMap((draft) =>
    draft.signals.map((signal) => {
      const checked = checkDimensions(signal.expression, withControl);
      if (!checked.ok) {
        problems.push(...checked.problems);
        return { dimension, evaluate: () => new Float64Array(0) };
      }
      // A helper that could not be read would leave symbols in the tree that nothing gives a value.
      if (problems.length > 0) return { dimension: checked.value, evaluate: () => new Float64Array(0) };
      const tree = substitute(signal.expression.tree, replacements);
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
    controlUnit: unit,
    over: values,
    expression: { ...right, tree: rightTree },
    written: right,
    signals,
  });
}

function readControl(
  over: Readonly<Record<string, readonly (string | number)[]>>,
  document: LabDocument,
): Outcome<{ readonly name: string; readonly unit: Unit; readonly values: Float64Array }> {
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
  let unit: Unit | undefined;
  const values = list.map((written, index) => {
    const path: Path = ['model', 'over', name, index];
    const magnitude = parseMagnitude(String(written), 'point', document.originOf(path));
    if (!magnitude.ok) {
      problems.push(...magnitude.problems);
      return Number.NaN;
    }
    unit ??= magnitude.value.unit;
    if (!sameDimension(unit.dimension, magnitude.value.unit.dimension)) {
      problems.push(
        problem(
          'wrong-dimension',
          document.placeOf(path),
          `"${written}" ${sayDimension(magnitude.value.unit.dimension)}; the values before it are of another dimension (${formatDimension(unit.dimension)}).`,
        ),
      );
    }
    return magnitude.value.value;
  });
  if (problems.length > 0) return fail(...problems);
  if (unit === undefined) return fail(problem('relation-form', place, `"${name}" has no values.`));
  return succeed({ name, unit, values: Float64Array.from(values) });
}

function widen(scope: Scope, known: ReadonlyMap<string, Dimension>): Scope {
  return {
    ...scope,
    dimensionOf: (name) => known.get(name) ?? scope.dimensionOf(name),
    names: () => [...scope.names(), ...known.keys()],
  };
}
