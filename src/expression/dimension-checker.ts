import type { Problem } from '../problem/index.ts';
import { problem } from '../problem/index.ts';
import {
  type Dimension,
  dimensionless,
  divideDimensions,
  isUnknownDimension,
  multiplyDimensions,
  parseUnit,
  raiseDimension,
  sameDimension,
} from '../quantity/index.ts';
import { plainValue } from './build.ts';
import { constantValue } from './differentiate.ts';
import { adviseFactor, adviseName, adviseUnit, listNames, says } from './dimension-words.ts';
import { functionNamed } from './functions.ts';
import type { Expected, Scope } from './scope.ts';
import { shorten } from './tokens.ts';
import type { Expression, Tree } from './tree.ts';
import { CONSTANTS, nameAt } from './walk.ts';

/** 'any' is a bare 0; null where a problem has been told and nothing more can be said. */
export type Found = Dimension | 'any' | null;

export function isKnown(found: Found): found is Dimension {
  return found !== null && found !== 'any';
}

/** Finds dimensions node by node; every problem met on the way is kept. */
export class DimensionChecker {
  readonly problems: Problem[] = [];
  private readonly expression: Expression;
  private readonly scope: Scope;
  /** Variables of the integrals around the node at hand. */
  private readonly bound: { readonly name: string; readonly dimension: Found }[] = [];

  constructor(expression: Expression, scope: Scope) {
    this.expression = expression;
    this.scope = scope;
  }

  tell(code: string, at: Tree, say: (text: string) => string, tryThis?: string): null {
    const place = this.expression.origin?.placeAt(at.span.start) ?? {};
    this.problems.push(problem(code, place, say(this.quote(at)), tryThis));
    return null;
  }

  tellUnexpected(tree: Tree, found: Dimension, expected: Expected): void {
    const advice = adviseFactor(found, expected.dimension);
    this.tell(
      'wrong-dimension',
      tree,
      (text) => `${text} ${says(found)}; ${expected.what} must ${says(expected.dimension, 'have', 'be')}.`,
      advice,
    );
  }

  dimensionOf(tree: Tree): Found {
    switch (tree.kind) {
      case 'number':
        if (tree.unit !== undefined) {
          const unit = parseUnit(tree.unit);
          return unit.ok ? unit.value.dimension : null;
        }
        return tree.value === 0 ? 'any' : dimensionless;
      case 'name':
        return this.dimensionOfName(tree);
      case 'negate':
        return this.dimensionOf(tree.operand);
      case 'arithmetic':
        return this.dimensionOfArithmetic(tree);
      case 'call':
        return this.dimensionOfCall(tree);
      case 'choose':
        this.dimensionOf(tree.selector);
        return this.alike([tree.whenTrue, tree.whenFalse], 'the branches of a choice');
      case 'compare':
      case 'logic':
      case 'not':
        return this.tell(
          'condition-as-value',
          tree,
          (text) => `${text} is true or false; a value would be right here.`,
        );
    }
  }

  checkCondition(tree: Tree): void {
    switch (tree.kind) {
      case 'compare':
        this.alike([tree.left, tree.right], 'the sides of a comparison');
        return;
      case 'logic':
        this.checkCondition(tree.left);
        this.checkCondition(tree.right);
        return;
      case 'not':
        this.checkCondition(tree.operand);
        return;
      default:
        this.tell(
          'value-as-condition',
          tree,
          (text) => `${text} is a value; a condition would be right here, such as x > 0.20 m.`,
        );
    }
  }

  private dimensionOfName(tree: Tree & { kind: 'name' }): Found {
    if (CONSTANTS.has(tree.name)) return dimensionless;
    const bound = this.bound.findLast((variable) => variable.name === tree.name);
    if (bound !== undefined && tree.primes === 0) return bound.dimension;
    const dimension = this.scope.dimensionOf(tree.name);
    if (dimension === undefined) {
      return this.tell(
        'unknown-symbol',
        tree,
        () => `"${shorten(tree.name)}" is not a symbol here.`,
        adviseName(tree.name, this.scope.names()) ?? listNames(this.scope.names()),
      );
    }
    if (isUnknownDimension(dimension)) return null;
    if (tree.primes === 0) return dimension;
    if (this.scope.primes?.has(tree.name) !== true) {
      const states = [...(this.scope.primes ?? [])];
      return this.tell(
        'prime-without-rate',
        tree,
        (text) =>
          `${text} asks for a rate of change in time, and "${tree.name}" is no state of a model that evolves here.`,
        states.length === 0 ? undefined : `The states are ${states.join(', ')}.`,
      );
    }
    return divideDimensions(dimension, raiseDimension(this.scope.time, tree.primes));
  }

  private dimensionOfArithmetic(tree: Tree & { kind: 'arithmetic' }): Found {
    if (tree.operator === '+' || tree.operator === '-') {
      return this.alike(
        [tree.left, tree.right],
        tree.operator === '+' ? 'the parts of a sum' : 'the parts of a difference',
      );
    }
    if (tree.operator === '^') return this.dimensionOfPower(tree);
    const left = this.plain(this.dimensionOf(tree.left));
    const right = this.plain(this.dimensionOf(tree.right));
    if (left === null || right === null) return null;
    return tree.operator === '*' ? multiplyDimensions(left, right) : divideDimensions(left, right);
  }

  private dimensionOfPower(tree: Tree & { kind: 'arithmetic' }): Found {
    const base = this.plain(this.dimensionOf(tree.left));
    const exponent = this.plain(this.dimensionOf(tree.right));
    if (exponent !== null && !sameDimension(exponent, dimensionless)) {
      return this.tell(
        'wrong-dimension',
        tree.right,
        (text) => `The exponent ${text} ${says(exponent)}; an exponent must be dimensionless.`,
      );
    }
    if (base === null || exponent === null) return null;
    if (sameDimension(base, dimensionless)) return dimensionless;
    const value = constantValue(tree.right);
    if (value !== undefined && Number.isFinite(value)) return raiseDimension(base, value);
    return this.tell(
      'wrong-dimension',
      tree.right,
      (text) =>
        `${this.quote(tree.left)} ${says(base)}, so its exponent must be a plain number such as 2 or 1/2; here it is ${text}.`,
      'Divide the base by a quantity of its own dimension first.',
    );
  }

  private dimensionOfCall(tree: Tree & { kind: 'call' }): Found {
    const parts = tree.arguments;
    const entry = functionNamed(tree.name);
    switch (entry?.dimension) {
      case 'pure':
        for (const part of parts) this.mustBePure(part, `the argument of ${tree.name}`);
        return dimensionless;
      case 'alike':
        return parts.length === 1
          ? this.dimensionOf(parts[0])
          : this.alike(parts, `the arguments of ${tree.name}`);
      case 'alike-to-pure':
        this.alike(parts, `the arguments of ${tree.name}`);
        return dimensionless;
      case 'any-to-pure':
        for (const part of parts) this.dimensionOf(part);
        return dimensionless;
      case 'square-root':
        return this.rooted(this.dimensionOf(parts[0]), 2);
      case 'cube-root':
        return this.rooted(this.dimensionOf(parts[0]), 3);
      case 'first': {
        const [first] = parts.map((part) => this.dimensionOf(part));
        return first;
      }
      case 'branches':
        this.checkCondition(parts[0]);
        return this.alike(parts.slice(1), `the branches of ${tree.name}`);
      case 'integral':
        return this.dimensionOfIntegral(tree);
      case 'derivative':
        return this.dimensionOfDerivative(tree);
      case 'table':
        return this.dimensionOfTable(tree);
      case undefined:
        throw new Error(`No function is named "${tree.name}".`);
    }
  }

  private dimensionOfIntegral(tree: Tree & { kind: 'call' }): Found {
    const [integrand, variable, from, to] = tree.arguments;
    const name = nameAt(tree, 1);
    const dimension = this.plain(this.alike([from, to], `the limits of ${tree.name}`));
    const known =
      this.scope.dimensionOf(name) !== undefined || this.bound.some((outer) => outer.name === name);
    if (known) {
      this.tell(
        'variable-already-known',
        variable,
        (text) => `${text} is the variable of this integral and already means something else here.`,
        'Choose a symbol that is not used elsewhere.',
      );
    }
    this.bound.push({ name, dimension });
    const value = this.plain(this.dimensionOf(integrand));
    this.bound.pop();
    return value === null || dimension === null ? null : multiplyDimensions(value, dimension);
  }

  private dimensionOfDerivative(tree: Tree & { kind: 'call' }): Found {
    const value = this.plain(this.dimensionOf(tree.arguments[0]));
    const variable = this.plain(this.dimensionOf(tree.arguments[1]));
    return value === null || variable === null ? null : divideDimensions(value, variable);
  }

  private dimensionOfTable(tree: Tree & { kind: 'call' }): Found {
    const [tableName, at, order] = tree.arguments;
    const name = nameAt(tree, 0);
    const found = this.dimensionOf(at);
    const table = this.scope.tables?.get(name);
    if (table === undefined) {
      return this.tell(
        'unknown-table',
        tableName,
        (text) => `${text} is not a table of points here.`,
        adviseName(name, this.scope.tables?.keys() ?? []) ?? 'Tables are given under "tables".',
      );
    }
    if (isKnown(found) && !sameDimension(found, table.xDimension)) {
      this.tell(
        'wrong-dimension',
        at,
        (text) =>
          `${text} ${says(found)}; the table "${name}" is read against what ${says(table.xDimension)}.`,
      );
      return null;
    }
    const derivatives = order === undefined ? 0 : (plainValue(order) ?? 0);
    return divideDimensions(table.yDimension, raiseDimension(table.xDimension, derivatives));
  }

  /** The common dimension of several values; a bare 0 takes that of the others. */
  private alike(parts: readonly Tree[], what: string): Found {
    const found = parts.map((part) => this.dimensionOf(part));
    const first = found.findIndex(isKnown);
    if (found.includes(null)) return null;
    if (first < 0) return 'any';
    const common = found[first];
    if (!isKnown(common)) return null;
    const isSymbol = (name: string) => this.scope.dimensionOf(name) !== undefined;
    let good = true;
    for (const [index, dimension] of found.entries()) {
      if (!isKnown(dimension) || sameDimension(dimension, common)) continue;
      good = false;
      this.tell(
        'unlike-dimensions',
        parts[index],
        (text) =>
          `${text} ${says(dimension)}, ${this.quote(parts[first])} ${says(common)}; ${what} must be alike.`,
        adviseUnit(parts[index], dimension, common, isSymbol) ??
          adviseUnit(parts[first], common, dimension, isSymbol),
      );
    }
    return good ? common : null;
  }

  private mustBePure(part: Tree, what: string): void {
    const found = this.dimensionOf(part);
    if (!isKnown(found) || sameDimension(found, dimensionless)) return;
    this.tell('wrong-dimension', part, (text) => `${text} ${says(found)}; ${what} must be dimensionless.`);
  }

  private rooted(found: Found, root: number): Found {
    return isKnown(found) ? raiseDimension(found, 1 / root) : found;
  }

  /** A bare 0 counts as a plain number where it multiplies or is raised. */
  private plain(found: Found): Dimension | null {
    return found === 'any' ? dimensionless : found;
  }

  private quote(tree: Tree): string {
    return `"${shorten(this.expression.text.slice(tree.span.start, tree.span.end))}"`;
  }
}
