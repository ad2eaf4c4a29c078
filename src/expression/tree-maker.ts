import type { Origin, Problem } from '../problem/index.ts';
import { problem } from '../problem/index.ts';
import type { Signature } from './functions.ts';
import { MAX_DEPTH, MAX_NODES } from './limits.ts';
import * as say from './parse-messages.ts';
import { shorten } from './tokens.ts';
import type { ArithmeticOperator, ComparisonOperator, Span, Tree } from './tree.ts';
import { CONSTANTS, childrenOf, isCondition } from './walk.ts';

/**
 * Makes the nodes of a parse and keeps the rules of a well-formed tree: values and conditions in their places,
 * units only beside comparisons, depth and size within their caps.
 *
 * Every method returns undefined (or false) once a problem is noted; only the first problem is kept.
 */
export class TreeMaker {
  readonly problems: Problem[] = [];
  protected readonly text: string;
  protected readonly origin: Origin | undefined;
  private nodes = 0;
  private readonly heights = new Map<Tree, number>();
  /** Where the brackets around a node stand; its own span is inside them. */
  private readonly brackets = new Map<Tree, Span>();
  /** Numbers with a unit that stand as no side of a comparison so far, with their units. */
  private readonly numbersWithUnits = new Map<Tree, string>();

  constructor(text: string, origin: Origin | undefined) {
    this.text = text;
    this.origin = origin;
  }

  protected unitsAreInPlace(whole: Tree): boolean {
    this.numbersWithUnits.delete(whole);
    for (const [number, unit] of this.numbersWithUnits) {
      this.stop(number.span.start, say.numberWithUnit(this.quote(number.span), unit));
    }
    return this.numbersWithUnits.size === 0;
  }

  protected noteBrackets(tree: Tree, span: Span): void {
    this.brackets.set(tree, span);
  }

  protected makeNumberWithUnit(value: number, unit: string, span: Span): Tree | undefined {
    const number: Tree = { kind: 'number', value, unit, span };
    this.numbersWithUnits.set(number, unit);
    return this.note(number);
  }

  protected makePrefixed(kind: 'negate' | 'not', operand: Tree, start: number): Tree | undefined {
    return this.note({ kind, operand, span: { start, end: this.withBrackets(operand).end } });
  }

  protected makeExponent(value: number, span: Span): Tree | undefined {
    const digits = this.note({ kind: 'number', value: Math.abs(value), span });
    if (digits === undefined || value >= 0) return digits;
    return this.note({ kind: 'negate', operand: digits, span });
  }

  protected makeBinary(operator: string, left: Tree, right: Tree): Tree | undefined {
    const span = this.spanOver(left, right);
    switch (operator) {
      case '+':
      case '-':
      case '*':
      case '/':
      case '^':
        return this.makeArithmetic(operator, left, right);
      case '<':
      case '<=':
      case '>':
      case '>=':
        return this.makeComparison(operator, left, right);
      case 'and':
      case 'or': {
        const where = `beside "${operator}"`;
        if (!this.wants('condition', left, where) || !this.wants('condition', right, where)) return undefined;
        return this.note({ kind: 'logic', operator, left, right, span });
      }
      default:
        throw new Error(`No operator is written ${operator}.`);
    }
  }

  protected makeArithmetic(operator: ArithmeticOperator, left: Tree, right: Tree): Tree | undefined {
    const where = `beside "${operator}"`;
    if (!this.wants('value', left, where) || !this.wants('value', right, where)) return undefined;
    const span = this.spanOver(left, right);
    return this.note({ kind: 'arithmetic', operator, left, right, span });
  }

  private makeComparison(operator: ComparisonOperator, left: Tree, right: Tree): Tree | undefined {
    if (left.kind === 'compare') {
      const [start, middle, end] = [left, left.right, right].map((side) =>
        this.quote(this.withBrackets(side)),
      );
      return this.stop(left.span.start, say.chainedComparison(start, middle, operator, end));
    }
    const where = `beside "${operator}"`;
    if (!this.wants('value', left, where) || !this.wants('value', right, where)) return undefined;
    this.numbersWithUnits.delete(left);
    this.numbersWithUnits.delete(right);
    const span = this.spanOver(left, right);
    return this.note({ kind: 'compare', operator, left, right, span });
  }

  protected wants(kind: 'value' | 'condition', tree: Tree, where: string): boolean {
    if (isCondition(tree) === (kind === 'condition')) return true;
    const found = this.quote(this.withBrackets(tree));
    this.stop(
      tree.span.start,
      kind === 'value' ? say.conditionAsValue(found, where) : say.valueAsCondition(found, where),
    );
    return false;
  }

  protected note(tree: Tree): Tree | undefined {
    this.nodes += 1;
    if (this.nodes > MAX_NODES) return this.stop(tree.span.start, say.TOO_LARGE);
    let height = 1;
    for (const child of childrenOf(tree)) height = Math.max(height, 1 + (this.heights.get(child) ?? 0));
    if (height > MAX_DEPTH) return this.stop(tree.span.start, say.TOO_DEEP);
    this.heights.set(tree, height);
    return tree;
  }

  protected fitsParameter(
    kind: Signature['parameters'][number],
    part: Tree,
    entry: Signature,
    index: number,
  ): boolean {
    const where = `as argument ${index + 1} of ${entry.signature}`;
    if (kind === 'value' || kind === 'condition') return this.wants(kind, part, where);
    const fits =
      kind === 'order'
        ? part.kind === 'number' && part.unit === undefined && [0, 1, 2, 3].includes(part.value)
        : part.kind === 'name' && part.primes === 0 && !CONSTANTS.has(part.name);
    if (!fits) this.stop(part.span.start, say.wrongArgument(kind, this.quote(part.span), where));
    return fits;
  }

  protected stop(offset: number, { code, message, tryThis }: say.Complaint): undefined {
    if (this.problems.length === 0) {
      this.problems.push(problem(code, this.origin?.placeAt(offset) ?? {}, message, tryThis));
    }
  }

  protected quote(span: Span): string {
    return shorten(this.text.slice(span.start, span.end));
  }

  private withBrackets(tree: Tree): Span {
    return this.brackets.get(tree) ?? tree.span;
  }

  private spanOver(left: Tree, right: Tree): Span {
    return { start: this.withBrackets(left).start, end: this.withBrackets(right).end };
  }
}
