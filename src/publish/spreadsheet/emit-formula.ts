import type { Tree } from '../../expression/index.ts';
import { fail, type Outcome, problem, succeed } from '../../problem/index.ts';

/** What stands for a name in a cell's formula: a cell, or a name of the workbook. */
export type Reference = (name: string) => string;

class NotForSheets extends Error {}

/**
 * An expression as a formula that every spreadsheet program reads, without the equals sign.
 *
 * Every operation is bracketed: programs differ on −x^2. Angles are in radians, as everywhere.
 *
 * @returns fails for integrals, derivatives and curves through tables, which no cell can hold
 */
export function emitFormula(tree: Tree, reference: Reference): Outcome<string> {
  try {
    return succeed(emit(tree, reference));
  } catch (error) {
    if (!(error instanceof NotForSheets)) throw error;
    return fail(problem('not-for-sheets', { step: 'spreadsheet' }, error.message));
  }
}

function emit(tree: Tree, reference: Reference): string {
  const of = (inner: Tree): string => emit(inner, reference);
  switch (tree.kind) {
    case 'number':
      return emitNumber(tree.value);
    case 'name':
      if (tree.primes > 0)
        throw new NotForSheets(
          `${tree.name}${"'".repeat(tree.primes)} is a derivative, which no cell can hold.`,
        );
      return tree.name === 'pi' || tree.name === 'π' ? 'PI()' : reference(tree.name);
    case 'negate':
      return `(-${of(tree.operand)})`;
    case 'arithmetic':
      return `(${of(tree.left)}${tree.operator}${of(tree.right)})`;
    case 'compare':
      return `(${of(tree.left)}${tree.operator}${of(tree.right)})`;
    case 'logic':
      return `${tree.operator.toUpperCase()}(${of(tree.left)},${of(tree.right)})`;
    case 'not':
      return `NOT(${of(tree.operand)})`;
    case 'choose':
      return `IF(${of(tree.selector)}>0,${of(tree.whenTrue)},${of(tree.whenFalse)})`;
    case 'call':
      return emitCall(
        tree.name,
        tree.arguments.map((part) => () => of(part)),
      );
  }
}

/** Numbers as a formula holds them: at most 15 digits count there, but all are written. */
export function emitNumber(value: number): string {
  if (!Number.isFinite(value)) return 'NA()';
  const text = String(value).toUpperCase().replace('E+', 'E');
  return value < 0 || Object.is(value, -0) ? `(${text === '0' ? '-0' : text})` : text;
}

/** Functions that spreadsheets have under a name of their own. */
const SAME_ARGUMENTS: Readonly<Record<string, string>> = {
  sqrt: 'SQRT',
  exp: 'EXP',
  ln: 'LN',
  log10: 'LOG10',
  sin: 'SIN',
  cos: 'COS',
  tan: 'TAN',
  asin: 'ASIN',
  acos: 'ACOS',
  atan: 'ATAN',
  sinh: 'SINH',
  cosh: 'COSH',
  tanh: 'TANH',
  asinh: 'ASINH',
  acosh: 'ACOSH',
  atanh: 'ATANH',
  abs: 'ABS',
  sign: 'SIGN',
  floor: 'INT',
  min: 'MIN',
  max: 'MAX',
  if: 'IF',
};

function emitCall(name: string, parts: readonly (() => string)[]): string {
  if (Object.hasOwn(SAME_ARGUMENTS, name))
    return `${SAME_ARGUMENTS[name]}(${parts.map((part) => part()).join(',')})`;
  const [a = () => '0', b = () => '0'] = parts;
  switch (name) {
    case 'cbrt':
      return `(SIGN(${a()})*(ABS(${a()})^(1/3)))`;
    case 'atan2':
      // Spreadsheets take the x first.
      return `ATAN2(${b()},${a()})`;
    case 'hypot':
      return `SQRT(SUMSQ(${parts.map((part) => part()).join(',')}))`;
    case 'dry':
      return `(${a()}*SIGN(${b()}))`;
    default:
      throw new NotForSheets(
        `The model holds ${name}(…), which a cell cannot work out; the program in Python can.`,
      );
  }
}
