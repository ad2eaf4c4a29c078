import { functionNamed } from './functions.ts';
import { type DerivativeMark, symbolToTeX } from './tex-names.ts';
import { digitsInUnit, writeDouble } from './to-text.ts';
import type { Tree } from './tree.ts';
import { foldTree } from './walk.ts';

export interface TeXOptions {
  /** Default '.'. */
  readonly decimalMark?: '.' | ',';
  /** How x' and x'' are printed: dots above (the default) or primes behind. */
  readonly derivatives?: DerivativeMark;
}

/** A printed part, and how tightly its outermost operator holds: 9 needs no brackets anywhere. */
interface Printed {
  readonly tex: string;
  readonly tightness: number;
}

const TIGHTNESS = {
  or: 1,
  and: 2,
  not: 3,
  compare: 4,
  sum: 5,
  product: 6,
  fraction: 7,
  power: 8,
  atom: 9,
} as const;

const COMPARISONS: ReadonlyMap<string, string> = new Map([
  ['<', '<'],
  ['<=', '\\le'],
  ['>', '>'],
  ['>=', '\\ge'],
]);

/**
 * The tree as TeX for mathematics mode: fractions, roots, integrals, indices, Greek letters, dots for
 * derivatives with respect to time, brackets that grow.
 */
export function toTeX(tree: Tree, options: TeXOptions = {}): string {
  return foldTree<Printed>(tree, (node, below) => print(node, below, options)).tex;
}

function print(node: Tree, below: readonly Printed[], options: TeXOptions): Printed {
  switch (node.kind) {
    case 'number':
      return node.unit === undefined
        ? printNumber(writeDouble(node.value), options)
        : printWithUnit(node.value, node.unit, options);
    case 'name': {
      const tex = symbolToTeX(node.name, node.primes, options.derivatives);
      const raised = node.primes > 2 || (node.primes > 0 && options.derivatives === 'primes');
      return { tex, tightness: raised ? TIGHTNESS.power : TIGHTNESS.atom };
    }
    case 'negate':
      return { tex: `-${wrap(below[0], TIGHTNESS.product)}`, tightness: TIGHTNESS.sum };
    case 'arithmetic':
      return printArithmetic(node, below);
    case 'compare':
      return {
        tex: `${below[0].tex} ${COMPARISONS.get(node.operator)} ${below[1].tex}`,
        tightness: TIGHTNESS.compare,
      };
    case 'logic': {
      const own = TIGHTNESS[node.operator];
      return {
        tex: `${wrap(below[0], own)} \\text{ ${node.operator} } ${wrap(below[1], own)}`,
        tightness: own,
      };
    }
    case 'not':
      return { tex: `\\text{not } ${wrap(below[0], TIGHTNESS.atom)}`, tightness: TIGHTNESS.not };
    case 'choose': {
      const [selector, whenTrue, whenFalse] = below;
      return printCall('if', [
        { tex: `${selector.tex} > 0`, tightness: TIGHTNESS.compare },
        whenTrue,
        whenFalse,
      ]);
    }
    case 'call':
      return printCall(node.name, below);
  }
}

function printArithmetic(node: Tree & { kind: 'arithmetic' }, [left, right]: readonly Printed[]): Printed {
  switch (node.operator) {
    case '+':
      return {
        tex: `${left.tex} + ${wrapSigned(node.right, right, TIGHTNESS.sum)}`,
        tightness: TIGHTNESS.sum,
      };
    case '-':
      return { tex: `${left.tex} - ${wrap(right, TIGHTNESS.product)}`, tightness: TIGHTNESS.sum };
    case '*': {
      const before = node.left.kind === 'negate' ? left.tex : wrap(left, TIGHTNESS.product);
      const after = wrap(right, TIGHTNESS.product);
      return {
        tex: `${before}${/^[0-9]/.test(after) ? '\\cdot ' : '\\,'}${after}`,
        tightness: TIGHTNESS.product,
      };
    }
    case '/':
      return { tex: `\\frac{${left.tex}}{${right.tex}}`, tightness: TIGHTNESS.fraction };
    case '^':
      return { tex: `${wrap(left, TIGHTNESS.atom)}^{${right.tex}}`, tightness: TIGHTNESS.power };
  }
}

function printCall(name: string, below: readonly Printed[]): Printed {
  const entry = functionNamed(name);
  if (entry === undefined) throw new Error(`No function is named "${name}".`);
  const parts = below.map((part, index) =>
    entry.factors?.includes(index) === true ? wrap(part, TIGHTNESS.product) : part.tex,
  );
  const tightness =
    name === 'if'
      ? TIGHTNESS.or
      : name === 'dry'
        ? TIGHTNESS.product
        : name === 'integrate'
          ? TIGHTNESS.sum
          : TIGHTNESS.power;
  return { tex: entry.tex(parts), tightness };
}

function wrap(part: Printed, least: number): string {
  return part.tightness < least ? `\\left(${part.tex}\\right)` : part.tex;
}

/** A leading minus behind another sign needs brackets. */
function wrapSigned(tree: Tree, part: Printed, least: number): string {
  const signed = tree.kind === 'negate' || part.tex.startsWith('-');
  return signed ? `\\left(${part.tex}\\right)` : wrap(part, least);
}

function printNumber(text: string, options: TeXOptions): Printed {
  const [mantissa, exponent] = text.split('e');
  const digits = mantissa
    .replace('-', '')
    .replace('.', options.decimalMark === ',' ? '{,}' : '.')
    .replace('Infinity', '\\infty ')
    .replace('NaN', '\\text{undefined}');
  const scale = exponent === undefined ? '' : `10^{${Number(exponent)}}`;
  const size = scale === '' ? digits : digits === '1' ? scale : `${digits}\\cdot ${scale}`;
  if (mantissa.startsWith('-')) return { tex: `-${size}`, tightness: TIGHTNESS.sum };
  return { tex: size, tightness: exponent === undefined ? TIGHTNESS.atom : TIGHTNESS.product };
}

function printWithUnit(value: number, unit: string, options: TeXOptions): Printed {
  const number = printNumber(digitsInUnit(value, unit), options);
  return { tex: `${number.tex}\\,${unitToTeX(unit)}`, tightness: TIGHTNESS.product };
}

const SUPERSCRIPTS = '⁰¹²³⁴⁵⁶⁷⁸⁹';

/** A unit in upright letters, with raised powers. */
function unitToTeX(unit: string): string {
  const raised = unit
    .replace(/\^?(-?[0-9.]+)(?![0-9.]*\/)/gu, (_all, digits: string) => `^{${digits}}`)
    .replace(/⁻?[⁰¹²³⁴⁵⁶⁷⁸⁹]+/gu, (digits) => {
      const plain = [...digits].map((digit) => (digit === '⁻' ? '-' : SUPERSCRIPTS.indexOf(digit)));
      return `^{${plain.join('')}}`;
    })
    .replace(/[·⋅*×]/gu, '\\cdot ')
    .replace(/(?<=\S)\s+(?=\S)(?<!\\cdot )/gu, '\\,')
    .replace(/[µμ]/gu, '\\mu ')
    .replace(/Ω|Ω/gu, '\\Omega ')
    .replace(/°/gu, '{}^{\\circ}')
    .replace(/%/gu, '\\%');
  return `\\mathrm{${raised}}`;
}
