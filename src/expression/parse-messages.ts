import { nearestName } from '../problem/index.ts';
import { FUNCTIONS, type Signature } from './functions.ts';
import { MAX_DEPTH, MAX_NESTED_DERIVATIVES, MAX_NESTED_INTEGRALS, MAX_NODES, MAX_PRIMES } from './limits.ts';
import { shorten, type Token } from './tokens.ts';

/** What is wrong with a text, before its place is known. */
export interface Complaint {
  readonly code: string;
  readonly message: string;
  readonly tryThis?: string;
}

/*
 * Every sentence that the parser can say. Texts of the user come in shortened.
 */

export const EMPTY: Complaint = {
  code: 'empty-expression',
  message: 'An expression is missing here: the text is empty.',
};

export const TOO_DEEP: Complaint = {
  code: 'expression-too-deep',
  message: `The expression is nested more than ${MAX_DEPTH} deep.`,
  tryThis: 'Give parts of it a name under "where".',
};

export const TOO_LARGE: Complaint = {
  code: 'expression-too-large',
  message: `The expression has more than ${MAX_NODES} parts.`,
  tryThis: 'Give parts of it a name under "where".',
};

export const TOO_MANY_INTEGRALS: Complaint = {
  code: 'too-many-integrals',
  message: `More than ${MAX_NESTED_INTEGRALS} integrals stand inside one another.`,
};

export const TOO_MANY_DERIVATIVES: Complaint = {
  code: 'too-many-derivatives',
  message: `More than ${MAX_NESTED_DERIVATIVES} derivatives stand inside one another.`,
};

export const BRACKET_NOT_CLOSED: Complaint = {
  code: 'bracket-not-closed',
  message: 'The bracket that opens here is never closed.',
};

export function primeOnConstant(name: string): Complaint {
  return {
    code: 'prime-on-constant',
    message: `${name} is a constant; it has no derivative to mark with '.`,
  };
}

export function tooManyPrimes(name: string, count: number): Complaint {
  return {
    code: 'too-many-primes',
    message: `"${shorten(name)}" has ${count} primes; at most ${MAX_PRIMES} are read.`,
  };
}

export function wrongArgumentCount(name: string, entry: Signature, given: number): Complaint {
  const { least, most } = argumentCounts(entry);
  const wanted =
    least === most ? `${least}` : Number.isFinite(most) ? `${least} or ${most}` : `at least ${least}`;
  const complaint = {
    code: 'wrong-number-of-arguments',
    message: `${entry.signature} takes ${wanted} ${wanted === '1' ? 'argument' : 'arguments'}; ${given === 0 ? 'none' : given} ${given === 1 ? 'is' : 'are'} given.`,
  };
  return given === 1
    ? { ...complaint, tryThis: `If ${name} is a symbol to be multiplied, write ${name}*(…).` }
    : complaint;
}

/** How many arguments a function takes. */
export function argumentCounts(entry: Signature): { readonly least: number; readonly most: number } {
  return {
    least: entry.parameters.length - (entry.optional ?? 0),
    most: entry.repeats === true ? Number.POSITIVE_INFINITY : entry.parameters.length,
  };
}

export function wrongArgument(kind: 'order' | 'table' | 'variable', found: string, where: string): Complaint {
  if (kind === 'order') {
    return { code: 'not-an-order', message: `"${found}" stands ${where}: 0, 1, 2 or 3 would be right.` };
  }
  const what = kind === 'table' ? 'the name of a table' : 'a bare symbol';
  return { code: 'not-a-name', message: `"${found}" stands ${where}: ${what} would be right.` };
}

export function chainedComparison(left: string, middle: string, operator: string, right: string): Complaint {
  return {
    code: 'chained-comparison',
    message: 'Two comparisons stand in a row.',
    tryThis: `Write ${left} and ${middle} ${operator} ${right}.`,
  };
}

export function conditionAsValue(found: string, where: string): Complaint {
  return {
    code: 'condition-as-value',
    message: `"${found}" is true or false; ${where} a value would be right.`,
    tryThis: 'A condition becomes a value by if(condition, a, b); brackets may be missing.',
  };
}

export function valueAsCondition(found: string, where: string): Complaint {
  return {
    code: 'value-as-condition',
    message: `"${found}" is a value; ${where} a condition would be right, such as x > 0.20 m.`,
  };
}

export function numberWithUnit(number: string, unit: string): Complaint {
  const digits = number.slice(0, number.length - unit.length).trim();
  return {
    code: 'number-with-unit',
    message: `"${number}" is a number with a unit; in an expression it may only be one whole side of a comparison.`,
    tryThis: `Make it a quantity and write its symbol here. If "${unit}" is meant as a symbol, write ${digits}*${unit}.`,
  };
}

export function unknownFunction(name: string): Complaint {
  const near = nearestName(name, Object.keys(FUNCTIONS));
  const advice = `${near === undefined ? 'If' : `Did you mean "${near}"? If`} it is a symbol to be multiplied, write`;
  return {
    code: 'unknown-function',
    message: `"${shorten(name)}" is not a function here.`,
    tryThis: `${advice} ${shorten(name)}*(…).`,
  };
}

/** @param before, found texts of the two tokens; '' at the start and at the end of the expression */
export function missingOperand(before: string, found: string): Complaint {
  const after = before === '' ? '' : ` after "${before}"`;
  const message =
    found === ''
      ? `The expression ends${after}, where a value should follow.`
      : before === ''
        ? `The expression starts with "${found}", where a value would be right.`
        : `"${found}" stands${after}, where a value would be right.`;
  return { code: 'value-missing', message };
}

/** What to say of a token that cannot continue the expression. */
export function unexpectedToken(token: Token, before: string, found: string): Complaint {
  if (token.kind === 'primes') {
    return { code: 'prime-without-symbol', message: `"${found}" must stand directly behind a symbol: x'.` };
  }
  switch (token.kind === 'sign' ? token.text : '') {
    case ')':
      return { code: 'bracket-not-opened', message: 'The bracket that closes here was never opened.' };
    case ',':
      return {
        code: 'unexpected-comma',
        message: 'A comma only separates the arguments of a function.',
        tryThis: 'Decimals are written with a point in expressions: 1.2.',
      };
    case '=':
      return {
        code: 'unexpected-equals',
        message: '"=" makes an equation; here one expression would be right.',
        tryThis: 'Values are compared with <, <=, > or >=.',
      };
    case '°':
    case '%':
      return { code: 'unexpected-sign', message: `"${found}" belongs directly behind a number.` };
    default:
      return {
        code: 'operator-missing',
        message: `Between "${before}" and "${found}" an operator is missing.`,
        tryThis: `For a product write ${before}*${found}.`,
      };
  }
}
