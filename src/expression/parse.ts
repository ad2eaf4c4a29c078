import type { Origin, Outcome, Problem } from '../problem/index.ts';
import { fail, nearestName, problem, succeed } from '../problem/index.ts';
import { parseUnit, toSI } from '../quantity/index.ts';
import { FUNCTIONS, type FunctionEntry, functionNamed } from './functions.ts';
import { MAX_DEPTH, MAX_NESTED_DERIVATIVES, MAX_NESTED_INTEGRALS, MAX_NODES, MAX_PRIMES } from './limits.ts';
import { cutIntoTokens, shorten, type Token } from './tokens.ts';
import type { ArithmeticOperator, ComparisonOperator, Expression, Span, Tree } from './tree.ts';
import { findEndOfUnit } from './unit-after-number.ts';
import { CONSTANTS, childrenOf, isCondition } from './walk.ts';

/** How tightly an operator holds its operands. A leading minus stands between product and power: -x^2 is -(x^2). */
const TIGHTNESS: ReadonlyMap<string, number> = new Map([
  ['or', 1],
  ['and', 2],
  ['<', 4],
  ['<=', 4],
  ['>', 4],
  ['>=', 4],
  ['+', 5],
  ['-', 5],
  ['*', 6],
  ['/', 6],
  ['^', 8],
]);
const NOT_TIGHTNESS = 3;
const SIGN_TIGHTNESS = 7;
const POWER_TIGHTNESS = 8;

/**
 * Parses a text into a tree with a span on every node.
 *
 * A tree that comes out is well formed: values and conditions stand only where they may, every function is of
 * the closed set and has its arguments, a number bears a unit only as a side of a comparison or as the whole
 * text, and depth and size are capped. Names are not looked up here; `checkDimensions` does that.
 *
 * @param origin where the text stands in the user's file, for the places of problems
 * @returns fails with the first thing that is not of the language
 */
export function parseExpression(text: string, origin?: Origin): Outcome<Expression> {
  const tokens = cutIntoTokens(text, origin);
  if (!tokens.ok) return tokens;
  const parser = new Parser(text, tokens.value, origin);
  const tree = parser.parseAll();
  if (tree === undefined) return fail(...parser.problems);
  return succeed(origin === undefined ? { text, tree } : { text, tree, origin });
}

/**
 * Operator-precedence parser. Every method returns undefined once a problem is noted; the first problem
 * ends the parse, since what follows it would be guesses.
 */
class Parser {
  readonly problems: Problem[] = [];
  private readonly text: string;
  private readonly tokens: readonly Token[];
  private readonly origin: Origin | undefined;
  private at = 0;
  private nesting = 0;
  private nodes = 0;
  private integrals = 0;
  private derivatives = 0;
  private readonly heights = new Map<Tree, number>();
  private readonly numbersWithUnits = new Set<Tree>();

  constructor(text: string, tokens: readonly Token[], origin: Origin | undefined) {
    this.text = text;
    this.tokens = tokens;
    this.origin = origin;
  }

  parseAll(): Tree | undefined {
    if (this.tokens.length === 1) {
      return this.stop('empty-expression', 0, 'An expression is missing here: the text is empty.');
    }
    const tree = this.parseOperators(0);
    if (tree === undefined) return undefined;
    const token = this.peek();
    if (token.kind !== 'end') return this.stopAtUnexpected(token, tree);
    this.numbersWithUnits.delete(tree);
    for (const number of this.numbersWithUnits) return this.stopAtUnit(number);
    return tree;
  }

  private parseOperators(least: number): Tree | undefined {
    let left = this.parseOperand();
    while (left !== undefined) {
      const token = this.peek();
      if (token.kind === 'exponent') {
        if (POWER_TIGHTNESS < least) return left;
        this.at += 1;
        const raised = this.makeExponent(token);
        left = raised && this.makeArithmetic('^', left, raised);
        continue;
      }
      const operator = token.kind === 'sign' ? token.text : '';
      const tightness = TIGHTNESS.get(operator);
      if (tightness === undefined || tightness < least) return left;
      this.at += 1;
      const right: Tree | undefined = this.parseOperators(operator === '^' ? SIGN_TIGHTNESS : tightness + 1);
      if (right === undefined) return undefined;
      left = this.makeBinary(operator, left, right);
    }
    return left;
  }

  private parseOperand(): Tree | undefined {
    this.nesting += 1;
    if (this.nesting > MAX_DEPTH) return this.stopAtDepth(this.peek().span.start);
    const tree = this.parseSigned();
    this.nesting -= 1;
    return tree;
  }

  private parseSigned(): Tree | undefined {
    const token = this.peek();
    if (token.kind !== 'sign' || !['-', '+', 'not'].includes(token.text)) return this.parsePrimary();
    this.at += 1;
    if (token.text === 'not') {
      const operand = this.parseOperators(NOT_TIGHTNESS);
      if (operand === undefined || !this.wants('condition', operand, 'after "not"')) return undefined;
      return this.note({ kind: 'not', operand, span: { start: token.span.start, end: operand.span.end } });
    }
    const next = this.peek();
    if (next.kind === 'number') {
      const sign = token.text === '-' ? -1 : 1;
      const number = this.parseNumberWithUnit(next, sign, token.span.start);
      if (number !== null) return number;
    }
    const operand = this.parseOperators(SIGN_TIGHTNESS);
    if (operand === undefined || !this.wants('value', operand, `after "${token.text}"`)) return undefined;
    if (token.text === '+') return operand;
    return this.note({ kind: 'negate', operand, span: { start: token.span.start, end: operand.span.end } });
  }

  private parsePrimary(): Tree | undefined {
    const token = this.peek();
    if (token.kind === 'number') {
      const withUnit = this.parseNumberWithUnit(token, 1, token.span.start);
      if (withUnit !== null) return withUnit;
      this.at += 1;
      return this.note({ kind: 'number', value: token.value, span: token.span });
    }
    if (token.kind === 'name') {
      this.at += 1;
      const next = this.peek();
      if (next.kind === 'sign' && next.text === '(') return this.parseCall(token.text, token.span);
      return this.parseName(token.text, token.span);
    }
    if (token.kind === 'sign' && token.text === '(') {
      this.at += 1;
      const inside = this.parseOperators(0);
      if (inside === undefined || !this.takeClosing(token)) return undefined;
      return inside;
    }
    return this.stopAtMissingOperand(token);
  }

  private parseName(name: string, span: Span): Tree | undefined {
    const token = this.peek();
    if (token.kind !== 'primes' || token.span.start !== span.end) {
      return this.note({ kind: 'name', name, primes: 0, span });
    }
    this.at += 1;
    if (CONSTANTS.has(name)) {
      return this.stop(
        'prime-on-constant',
        span.start,
        `${name} is a constant; it has no derivative to mark with '.`,
      );
    }
    if (token.count > MAX_PRIMES) {
      return this.stop(
        'too-many-primes',
        token.span.start,
        `"${name}" has ${token.count} primes; at most ${MAX_PRIMES} are read.`,
      );
    }
    return this.note({
      kind: 'name',
      name,
      primes: token.count,
      span: { start: span.start, end: token.span.end },
    });
  }

  /** null where no unit stands behind the number. */
  private parseNumberWithUnit(
    token: Token & { kind: 'number' },
    sign: number,
    start: number,
  ): Tree | undefined | null {
    const end = findEndOfUnit(this.text, this.tokens, this.at + 1);
    if (end === this.at + 1) return null;
    const first = this.tokens[this.at + 1].span.start;
    const last = this.tokens[end - 1].span.end;
    const unitText = this.text.slice(first, last);
    const unit = parseUnit(unitText, this.origin && shifted(this.origin, first));
    if (!unit.ok) {
      this.problems.push(...unit.problems);
      return undefined;
    }
    this.at = end;
    const value = toSI(sign * token.value, unit.value, 'point');
    const number: Tree = { kind: 'number', value, unit: unitText, span: { start, end: last } };
    this.numbersWithUnits.add(number);
    return this.note(number);
  }

  private parseCall(name: string, span: Span): Tree | undefined {
    const entry = functionNamed(name);
    if (entry === undefined) return this.stopAtUnknownFunction(name, span);
    const opening = this.peek();
    this.at += 1;
    if (name === 'd') this.derivatives += 1;
    if (this.derivatives > MAX_NESTED_DERIVATIVES) {
      return this.stop(
        'too-many-derivatives',
        span.start,
        `More than ${MAX_NESTED_DERIVATIVES} derivatives stand inside one another.`,
      );
    }
    const parts = this.parseArguments(name, entry, opening, span);
    if (name === 'd') this.derivatives -= 1;
    if (parts === undefined) return undefined;
    const end = this.tokens[this.at - 1].span.end;
    return this.note({ kind: 'call', name, arguments: parts, span: { start: span.start, end } });
  }

  private parseArguments(name: string, entry: FunctionEntry, opening: Token, span: Span): Tree[] | undefined {
    const parts: Tree[] = [];
    const next = this.peek();
    if (next.kind === 'sign' && next.text === ')') {
      this.at += 1;
      return this.checkCount(name, entry, parts, span);
    }
    for (;;) {
      const index = parts.length;
      const kind = entry.parameters[Math.min(index, entry.parameters.length - 1)];
      const insideIntegral = name === 'integrate' && index === 0;
      if (insideIntegral) this.integrals += 1;
      if (this.integrals > MAX_NESTED_INTEGRALS) {
        return this.stop(
          'too-many-integrals',
          span.start,
          `More than ${MAX_NESTED_INTEGRALS} integrals stand inside one another.`,
        );
      }
      const part = this.parseOperators(0);
      if (insideIntegral) this.integrals -= 1;
      if (part === undefined || !this.fitsParameter(kind, part, entry, index)) return undefined;
      parts.push(part);
      const token = this.peek();
      if (token.kind === 'sign' && token.text === ',') {
        this.at += 1;
        continue;
      }
      if (token.kind === 'sign' && token.text === ')') {
        this.at += 1;
        return this.checkCount(name, entry, parts, span);
      }
      this.stopAtUnclosed(opening, token, part);
      return undefined;
    }
  }

  private checkCount(name: string, entry: FunctionEntry, parts: Tree[], span: Span): Tree[] | undefined {
    const least = entry.parameters.length - (entry.optional ?? 0);
    const most = entry.repeats === true ? Number.POSITIVE_INFINITY : entry.parameters.length;
    if (parts.length >= least && parts.length <= most) return parts;
    const wanted =
      least === most
        ? `${least}`
        : most === Number.POSITIVE_INFINITY
          ? `at least ${least}`
          : `${least} or ${most}`;
    return this.stop(
      'wrong-number-of-arguments',
      span.start,
      `${entry.signature} takes ${wanted} ${wanted === '1' ? 'argument' : 'arguments'}; ${parts.length === 0 ? 'none' : parts.length} ${parts.length === 1 ? 'is' : 'are'} given.`,
      parts.length === 1 ? `If ${name} is a symbol to be multiplied, write ${name}*(…).` : undefined,
    );
  }

  private fitsParameter(
    kind: FunctionEntry['parameters'][number],
    part: Tree,
    entry: FunctionEntry,
    index: number,
  ): boolean {
    const where = `as argument ${index + 1} of ${entry.signature}`;
    if (kind === 'value' || kind === 'condition') return this.wants(kind, part, where);
    if (kind === 'order') {
      if (part.kind === 'number' && part.unit === undefined && [0, 1, 2, 3].includes(part.value)) return true;
      this.stop(
        'not-an-order',
        part.span.start,
        `${this.quote(part.span)} stands ${where}: 0, 1, 2 or 3 would be right.`,
      );
      return false;
    }
    if (part.kind === 'name' && part.primes === 0 && !CONSTANTS.has(part.name)) return true;
    const what = kind === 'table' ? 'the name of a table' : 'a bare symbol';
    this.stop(
      'not-a-name',
      part.span.start,
      `${this.quote(part.span)} stands ${where}: ${what} would be right.`,
    );
    return false;
  }

  private makeExponent(token: Token & { kind: 'exponent' }): Tree | undefined {
    const digits = this.note({ kind: 'number', value: Math.abs(token.value), span: token.span });
    if (digits === undefined || token.value >= 0) return digits;
    return this.note({ kind: 'negate', operand: digits, span: token.span });
  }

  private makeBinary(operator: string, left: Tree, right: Tree): Tree | undefined {
    const span = { start: left.span.start, end: right.span.end };
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

  private makeArithmetic(operator: ArithmeticOperator, left: Tree, right: Tree): Tree | undefined {
    const where = `beside "${operator}"`;
    if (!this.wants('value', left, where) || !this.wants('value', right, where)) return undefined;
    const span = { start: left.span.start, end: right.span.end };
    return this.note({ kind: 'arithmetic', operator, left, right, span });
  }

  private makeComparison(operator: ComparisonOperator, left: Tree, right: Tree): Tree | undefined {
    if (left.kind === 'compare') {
      const middle = this.quote(left.right.span, false);
      return this.stop(
        'chained-comparison',
        left.span.start,
        `Two comparisons stand in a row.`,
        `Write ${this.quote(left.span, false)} and ${middle} ${operator} ${this.quote(right.span, false)}.`,
      );
    }
    const where = `beside "${operator}"`;
    if (!this.wants('value', left, where) || !this.wants('value', right, where)) return undefined;
    this.numbersWithUnits.delete(left);
    this.numbersWithUnits.delete(right);
    const span = { start: left.span.start, end: right.span.end };
    return this.note({ kind: 'compare', operator, left, right, span });
  }

  private wants(kind: 'value' | 'condition', tree: Tree, where: string): boolean {
    if (isCondition(tree) === (kind === 'condition')) return true;
    if (kind === 'value') {
      this.stop(
        'condition-as-value',
        tree.span.start,
        `${this.quote(tree.span)} is true or false; ${where} a value would be right.`,
        'A condition becomes a value by if(condition, a, b); brackets may be missing.',
      );
    } else {
      this.stop(
        'value-as-condition',
        tree.span.start,
        `${this.quote(tree.span)} is a value; ${where} a condition would be right, such as x > 0.20 m.`,
      );
    }
    return false;
  }

  private note(tree: Tree): Tree | undefined {
    this.nodes += 1;
    if (this.nodes > MAX_NODES) {
      return this.stop(
        'expression-too-large',
        tree.span.start,
        `The expression has more than ${MAX_NODES} parts.`,
        'Give parts of it a name under "where".',
      );
    }
    let height = 1;
    for (const child of childrenOf(tree)) height = Math.max(height, 1 + (this.heights.get(child) ?? 0));
    if (height > MAX_DEPTH) return this.stopAtDepth(tree.span.start);
    this.heights.set(tree, height);
    return tree;
  }

  private takeClosing(opening: Token): boolean {
    const token = this.peek();
    if (token.kind === 'sign' && token.text === ')') {
      this.at += 1;
      return true;
    }
    this.stopAtUnclosed(opening, token, undefined);
    return false;
  }

  private peek(): Token {
    return this.tokens[this.at];
  }

  private stop(code: string, offset: number, message: string, tryThis?: string): undefined {
    if (this.problems.length === 0) {
      this.problems.push(problem(code, this.origin?.placeAt(offset) ?? {}, message, tryThis));
    }
  }

  private quote(span: Span, marks = true): string {
    const text = shorten(this.text.slice(span.start, span.end));
    return marks ? `"${text}"` : text;
  }

  private stopAtDepth(offset: number): undefined {
    return this.stop(
      'expression-too-deep',
      offset,
      `The expression is nested more than ${MAX_DEPTH} deep.`,
      'Give parts of it a name under "where".',
    );
  }

  private stopAtUnit(number: Tree): undefined {
    const text = this.quote(number.span, false);
    const unit = number.kind === 'number' ? (number.unit ?? '') : '';
    const digits = text.slice(0, text.length - unit.length).trim();
    return this.stop(
      'number-with-unit',
      number.span.start,
      `"${text}" is a number with a unit; in an expression it may only be one whole side of a comparison.`,
      `Make it a quantity and write its symbol here. If "${unit}" is meant as a symbol, write ${digits}*${unit}.`,
    );
  }

  private stopAtUnknownFunction(name: string, span: Span): undefined {
    const near = nearestName(name, Object.keys(FUNCTIONS));
    return this.stop(
      'unknown-function',
      span.start,
      `"${shorten(name)}" is not a function here.`,
      near === undefined
        ? `If it is a symbol to be multiplied, write ${shorten(name)}*(…).`
        : `Did you mean "${near}"? If it is a symbol to be multiplied, write ${shorten(name)}*(…).`,
    );
  }

  private stopAtMissingOperand(token: Token): undefined {
    const before = this.tokens[this.at - 1];
    const after = before === undefined ? '' : ` after ${this.quote(before.span)}`;
    if (token.kind === 'end') {
      return this.stop(
        'value-missing',
        token.span.start,
        `The expression ends${after}, where a value should follow.`,
      );
    }
    const start = before === undefined ? 'The expression starts with' : `${capitalise(after.trim())} stands`;
    return this.stop(
      'value-missing',
      token.span.start,
      `${start} ${this.quote(token.span)}, where a value would be right.`,
    );
  }

  private stopAtUnclosed(opening: Token, token: Token, part: Tree | undefined): undefined {
    if (token.kind === 'end') {
      return this.stop(
        'bracket-not-closed',
        opening.span.start,
        'The bracket that opens here is never closed.',
      );
    }
    return this.stopAtUnexpected(token, part);
  }

  private stopAtUnexpected(token: Token, before: Tree | undefined): undefined {
    const start = token.span.start;
    if (token.kind === 'sign' && token.text === ')') {
      return this.stop('bracket-not-opened', start, 'The bracket that closes here was never opened.');
    }
    if (token.kind === 'sign' && token.text === ',') {
      return this.stop(
        'unexpected-comma',
        start,
        'A comma only separates the arguments of a function.',
        'Decimals are written with a point in expressions: 1.2.',
      );
    }
    if (token.kind === 'sign' && token.text === '=') {
      return this.stop(
        'unexpected-equals',
        start,
        '"=" makes an equation; here one expression would be right.',
        'Values are compared with <, <=, > or >=.',
      );
    }
    if (token.kind === 'primes') {
      return this.stop(
        'prime-without-symbol',
        start,
        `${this.quote(token.span)} must stand directly behind a symbol: x'.`,
      );
    }
    const left = this.tokens[this.at - 1];
    const isUnitSign = token.kind === 'sign' && (token.text === '°' || token.text === '%');
    if (isUnitSign || (left.kind === 'name' && CONSTANTS.has(left.text) && before === undefined)) {
      return this.stop(
        'unexpected-sign',
        start,
        `${this.quote(token.span)} belongs directly behind a number.`,
      );
    }
    return this.stop(
      'operator-missing',
      start,
      `Between ${this.quote(left.span)} and ${this.quote(token.span)} an operator is missing.`,
      `For a product write ${this.quote(left.span, false)}*${this.quote(token.span, false)}.`,
    );
  }
}

/** The origin of a part of a text. */
export function shifted(origin: Origin, by: number): Origin {
  return { placeAt: (offset) => origin.placeAt(offset + by) };
}

function capitalise(text: string): string {
  return text.charAt(0).toUpperCase() + text.slice(1);
}
