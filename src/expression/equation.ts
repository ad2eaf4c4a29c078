import type { Origin, Outcome } from '../problem/index.ts';
import { fail, problem, succeed } from '../problem/index.ts';
import { parseExpression, shifted } from './parse.ts';
import { cutIntoTokens } from './tokens.ts';
import type { Expression } from './tree.ts';
import { isCondition } from './walk.ts';

/** Two expressions that are said to be equal. */
export interface Equation {
  readonly left: Expression;
  readonly right: Expression;
}

/**
 * Parses 'left = right'.
 *
 * Fails where there is not exactly one =, where a side does not parse (problems of both sides are told), and
 * where a side is a condition.
 */
export function parseEquation(text: string, origin?: Origin): Outcome<Equation> {
  const tokens = cutIntoTokens(text, origin);
  if (!tokens.ok) return tokens;
  const signs = tokens.value.filter((token) => token.kind === 'sign' && token.text === '=');
  const placeAt = (offset: number) => origin?.placeAt(offset) ?? {};
  if (signs.length !== 1) {
    const found = signs.length === 0 ? 'no "="' : `${signs.length} times "="`;
    const offset = signs[1]?.span.start ?? 0;
    return fail(
      problem(
        'not-an-equation',
        placeAt(offset),
        `The equation has ${found}; it needs one, between its two sides.`,
      ),
    );
  }
  const { start, end } = signs[0].span;
  const left = parseSide(text.slice(0, start), 0, origin);
  const right = parseSide(text.slice(end), end, origin);
  if (left.ok && right.ok) {
    return succeed({ left: left.value, right: right.value }, [...left.warnings, ...right.warnings]);
  }
  return fail(...(left.ok ? [] : left.problems), ...(right.ok ? [] : right.problems));
}

function parseSide(text: string, offset: number, origin: Origin | undefined): Outcome<Expression> {
  const side = parseExpression(text, origin && shifted(origin, offset));
  if (!side.ok || !isCondition(side.value.tree)) return side;
  return fail(
    problem(
      'condition-as-value',
      origin?.placeAt(offset + side.value.tree.span.start) ?? {},
      `"${text.trim()}" is true or false; a side of an equation is a value.`,
    ),
  );
}
