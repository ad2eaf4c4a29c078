import { fromSI, parseUnit, toSI } from '../quantity/index.ts';
import { exponentOf } from '../wasm/index.ts';
import type { Tree } from './tree.ts';
import { foldTree, keyOf } from './walk.ts';

/** A printed part, and how tightly its outermost operator holds: 9 needs no brackets anywhere. */
interface Printed {
  readonly text: string;
  readonly tightness: number;
}

const TIGHTNESS = {
  or: 1,
  and: 2,
  not: 3,
  compare: 4,
  sum: 5,
  product: 6,
  sign: 7,
  power: 8,
  atom: 9,
} as const;

/**
 * The tree as the text that a user would write, with brackets only where they are needed.
 *
 * A tree that was parsed comes out as a text that parses to the same tree. Of what only the program makes,
 * `choose` prints as `if`, and numbers that are not finite as 1/0, -1/0 and 0/0.
 */
export function toText(tree: Tree): string {
  return foldTree(tree, print).text;
}

function print(node: Tree, below: readonly Printed[]): Printed {
  switch (node.kind) {
    case 'number':
      return node.unit === undefined ? printNumber(node.value) : printWithUnit(node.value, node.unit);
    case 'name':
      return { text: keyOf(node), tightness: TIGHTNESS.atom };
    case 'negate':
      return { text: `-${wrap(below[0], TIGHTNESS.sign)}`, tightness: TIGHTNESS.sign };
    case 'not':
      return { text: `not ${wrap(below[0], TIGHTNESS.not)}`, tightness: TIGHTNESS.not };
    case 'arithmetic':
      return printArithmetic(node.operator, below);
    case 'compare':
      return {
        text: `${wrap(below[0], TIGHTNESS.sum)} ${node.operator} ${wrap(below[1], TIGHTNESS.sum)}`,
        tightness: TIGHTNESS.compare,
      };
    case 'logic': {
      const own = TIGHTNESS[node.operator];
      return { text: `${wrap(below[0], own)} ${node.operator} ${wrap(below[1], own + 1)}`, tightness: own };
    }
    case 'call':
      return {
        text: `${node.name}(${below.map((part) => part.text).join(', ')})`,
        tightness: TIGHTNESS.atom,
      };
    case 'choose': {
      const [selector, whenTrue, whenFalse] = below;
      const condition = `${wrap(selector, TIGHTNESS.sum)} > 0`;
      return { text: `if(${condition}, ${whenTrue.text}, ${whenFalse.text})`, tightness: TIGHTNESS.atom };
    }
  }
}

function printArithmetic(operator: string, [left, right]: readonly Printed[]): Printed {
  switch (operator) {
    case '^':
      return {
        text: `${wrap(left, TIGHTNESS.atom)}^${wrap(right, TIGHTNESS.sign)}`,
        tightness: TIGHTNESS.power,
      };
    case '*':
    case '/':
      return {
        text: `${wrap(left, TIGHTNESS.product)}${operator}${wrap(right, TIGHTNESS.product + 1)}`,
        tightness: TIGHTNESS.product,
      };
    default:
      return {
        text: `${wrap(left, TIGHTNESS.sum)} ${operator} ${wrap(right, TIGHTNESS.sum + 1)}`,
        tightness: TIGHTNESS.sum,
      };
  }
}

function wrap(part: Printed, least: number): string {
  return part.tightness < least ? `(${part.text})` : part.text;
}

function printNumber(value: number): Printed {
  if (Number.isNaN(value)) return { text: '0/0', tightness: TIGHTNESS.product };
  if (!Number.isFinite(value)) return { text: value > 0 ? '1/0' : '-1/0', tightness: TIGHTNESS.product };
  const text = writeDouble(value);
  return { text, tightness: text.startsWith('-') ? TIGHTNESS.sign : TIGHTNESS.atom };
}

function printWithUnit(value: number, unitText: string): Printed {
  return { text: `${digitsInUnit(value, unitText)} ${unitText}`, tightness: TIGHTNESS.atom };
}

/** The shortest digits that read back as the same double; with an exponent where the number is very large or small. */
export function writeDouble(value: number): string {
  if (Object.is(value, -0)) return '-0';
  const size = Math.abs(value);
  if (size === 0 || (size >= 1e-3 && size < 1e6) || !Number.isFinite(value)) return String(value);
  return value.toExponential().replace('e+', 'e');
}

/** The shortest number that, with this unit, is the SI value to the last bit. */
export function digitsInUnit(value: number, unitText: string): string {
  const unit = parseUnit(unitText);
  if (!unit.ok) return writeDouble(value);
  const near = fromSI(value, unit.value, 'point');
  for (let digits = 1; digits <= 17; digits += 1) {
    const candidate = Number(near.toPrecision(digits));
    if (toSI(candidate, unit.value, 'point') === value) return writeDouble(candidate);
  }
  // Rounding on the way to SI and back can miss by a few units in the last place.
  const step = 2 ** Math.max(-1074, exponentOf(Math.abs(near) || Number.MIN_VALUE) - 52);
  for (let count = 1; count <= 8; count += 1) {
    for (const candidate of [near + count * step, near - count * step]) {
      if (toSI(candidate, unit.value, 'point') === value) return writeDouble(candidate);
    }
  }
  return writeDouble(near);
}
