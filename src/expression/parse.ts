import type { Origin, Outcome } from '../problem/index.ts';
import { fail, succeed } from '../problem/index.ts';
import { parseUnit, toSI } from '../quantity/index.ts';
import { canonicalName, functionNamed, POWER_CALL, type Signature } from './functions.ts';
import { MAX_DEPTH, MAX_NESTED_DERIVATIVES, MAX_NESTED_INTEGRALS, MAX_PRIMES } from './limits.ts';
import * as say from './parse-messages.ts';
import { cutIntoTokens, type Token } from './tokens.ts';
import type { Expression, Span, Tree } from './tree.ts';
import { TreeMaker } from './tree-maker.ts';
import { findEndOfUnit } from './unit-after-number.ts';
import { CONSTANTS } from './walk.ts';

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

/** Brackets nest without making the tree higher, and a bracket on the right of an operator counts twice. */
const MAX_NESTING = 2 * MAX_DEPTH;

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
class Parser extends TreeMaker {
  private readonly tokens: readonly Token[];
  private at = 0;
  private nesting = 0;
  private integrals = 0;
  private derivatives = 0;

  constructor(text: string, tokens: readonly Token[], origin: Origin | undefined) {
    super(text, origin);
    this.tokens = tokens;
  }

  parseAll(): Tree | undefined {
    if (this.tokens.length === 1) {
      return this.stop(0, say.EMPTY);
    }
    const tree = this.parseOperators(0);
    if (tree === undefined) return undefined;
    const token = this.peek();
    if (token.kind !== 'end') return this.stopAtUnexpected(token);
    return this.unitsAreInPlace(tree) ? tree : undefined;
  }

  /** Everything that nests comes through here, so here the nesting is counted. */
  private parseOperators(least: number): Tree | undefined {
    this.nesting += 1;
    if (this.nesting > MAX_NESTING) return this.stop(this.peek().span.start, say.TOO_DEEP);
    const tree = this.parseOperatorsBehind(this.parseSigned(), least);
    this.nesting -= 1;
    return tree;
  }

  private parseOperatorsBehind(first: Tree | undefined, least: number): Tree | undefined {
    let left = first;
    while (left !== undefined) {
      const token = this.peek();
      if (token.kind === 'exponent') {
        if (POWER_TIGHTNESS < least) return left;
        this.at += 1;
        const raised = this.makeExponent(token.value, token.span);
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

  private parseSigned(): Tree | undefined {
    const token = this.peek();
    if (token.kind !== 'sign' || !['-', '+', 'not'].includes(token.text)) return this.parsePrimary();
    this.at += 1;
    if (token.text === 'not') {
      const operand = this.parseOperators(NOT_TIGHTNESS);
      if (operand === undefined || !this.wants('condition', operand, 'after "not"')) return undefined;
      return this.makePrefixed('not', operand, token.span.start);
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
    return this.makePrefixed('negate', operand, token.span.start);
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
      this.noteBrackets(inside, { start: token.span.start, end: this.tokens[this.at - 1].span.end });
      return inside;
    }
    const before = this.tokens[this.at - 1];
    const complaint = say.missingOperand(
      before === undefined ? '' : this.quote(before.span),
      this.quote(token.span),
    );
    return this.stop(token.span.start, complaint);
  }

  private parseName(name: string, span: Span): Tree | undefined {
    const token = this.peek();
    if (token.kind !== 'primes' || token.span.start !== span.end) {
      return this.note({ kind: 'name', name, primes: 0, span });
    }
    this.at += 1;
    if (CONSTANTS.has(name)) {
      return this.stop(span.start, say.primeOnConstant(name));
    }
    if (token.count > MAX_PRIMES) {
      return this.stop(token.span.start, say.tooManyPrimes(name, token.count));
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
    return this.makeNumberWithUnit(value, unitText, { start, end: last });
  }

  private parseCall(written: string, span: Span): Tree | undefined {
    const name = canonicalName(written);
    const entry = name === 'pow' ? POWER_CALL : functionNamed(name);
    if (entry === undefined) return this.stop(span.start, say.unknownFunction(name));
    const opening = this.peek();
    this.at += 1;
    if (name === 'd') this.derivatives += 1;
    if (this.derivatives > MAX_NESTED_DERIVATIVES) {
      return this.stop(span.start, say.TOO_MANY_DERIVATIVES);
    }
    const parts = this.parseArguments(name, entry, opening, span);
    if (name === 'd') this.derivatives -= 1;
    if (parts === undefined) return undefined;
    const end = this.tokens[this.at - 1].span.end;
    if (name === 'pow') {
      const [left, right] = parts;
      return this.note({ kind: 'arithmetic', operator: '^', left, right, span: { start: span.start, end } });
    }
    return this.note({ kind: 'call', name, arguments: parts, span: { start: span.start, end } });
  }

  private parseArguments(name: string, entry: Signature, opening: Token, span: Span): Tree[] | undefined {
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
        return this.stop(span.start, say.TOO_MANY_INTEGRALS);
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
      return this.stopAtUnclosed(opening, token);
    }
  }

  private checkCount(name: string, entry: Signature, parts: Tree[], span: Span): Tree[] | undefined {
    const { least, most } = say.argumentCounts(entry);
    if (parts.length >= least && parts.length <= most) return parts;
    return this.stop(span.start, say.wrongArgumentCount(name, entry, parts.length));
  }

  private takeClosing(opening: Token): boolean {
    const token = this.peek();
    if (token.kind === 'sign' && token.text === ')') {
      this.at += 1;
      return true;
    }
    this.stopAtUnclosed(opening, token);
    return false;
  }

  private peek(): Token {
    return this.tokens[this.at];
  }

  private stopAtUnclosed(opening: Token, token: Token): undefined {
    if (token.kind === 'end') return this.stop(opening.span.start, say.BRACKET_NOT_CLOSED);
    return this.stopAtUnexpected(token);
  }

  private stopAtUnexpected(token: Token): undefined {
    const before = this.quote(this.tokens[this.at - 1].span);
    return this.stop(token.span.start, say.unexpectedToken(token, before, this.quote(token.span)));
  }
}

/** The origin of a part of a text. */
export function shifted(origin: Origin, by: number): Origin {
  return { placeAt: (offset) => origin.placeAt(offset + by) };
}
