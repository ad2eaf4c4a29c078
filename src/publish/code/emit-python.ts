import type { Tree } from '../../expression/index.ts';

/** How tightly the outermost operation holds, as Python has it. */
interface Printed {
  readonly text: string;
  readonly tightness: number;
}

const TIGHTNESS = {
  choice: 0,
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

/** Functions that stand in Python's own `math`, or are built in. */
const SAME_ARGUMENTS: Readonly<Record<string, string>> = {
  sqrt: 'math.sqrt',
  exp: 'math.exp',
  ln: 'math.log',
  log10: 'math.log10',
  sin: 'math.sin',
  cos: 'math.cos',
  tan: 'math.tan',
  asin: 'math.asin',
  acos: 'math.acos',
  atan: 'math.atan',
  atan2: 'math.atan2',
  sinh: 'math.sinh',
  cosh: 'math.cosh',
  tanh: 'math.tanh',
  asinh: 'math.asinh',
  acosh: 'math.acosh',
  atanh: 'math.atanh',
  hypot: 'math.hypot',
  floor: 'math.floor',
  abs: 'abs',
  min: 'min',
  max: 'max',
  sign: 'sign',
  cbrt: 'cube_root',
};

/** The functions of its own that a program must hold for an expression: names as `emitPython` writes them. */
export type PythonHelper = 'sign' | 'cube_root' | 'integral' | 'curve';

/**
 * An expression as Python 3, with brackets only where they are needed.
 *
 * @param nameOf Python's name for a symbol
 * @param helpers joined by the functions that the expression needs
 */
export function emitPython(tree: Tree, nameOf: (name: string) => string, helpers: Set<PythonHelper>): string {
  return emit(tree, nameOf, helpers).text;
}

function emit(tree: Tree, nameOf: (name: string) => string, helpers: Set<PythonHelper>): Printed {
  const of = (inner: Tree): Printed => emit(inner, nameOf, helpers);
  const { or, and, not, compare, sum, product, sign, power, atom, choice } = TIGHTNESS;
  switch (tree.kind) {
    case 'number':
      return emitNumber(tree.value);
    case 'name':
      return {
        text: tree.name === 'pi' || tree.name === 'π' ? 'math.pi' : nameOf(tree.name),
        tightness: atom,
      };
    case 'negate':
      return { text: `-${wrap(of(tree.operand), sign)}`, tightness: sign };
    case 'arithmetic': {
      const [left, right] = [of(tree.left), of(tree.right)];
      if (tree.operator === '^') return emitPower(left, right, tree.right);
      const own = tree.operator === '+' || tree.operator === '-' ? sum : product;
      return { text: `${wrap(left, own)} ${tree.operator} ${wrap(right, own + 1)}`, tightness: own };
    }
    case 'compare':
      return {
        text: `${wrap(of(tree.left), sum)} ${tree.operator} ${wrap(of(tree.right), sum)}`,
        tightness: compare,
      };
    case 'logic': {
      const own = tree.operator === 'or' ? or : and;
      return {
        text: `${wrap(of(tree.left), own)} ${tree.operator} ${wrap(of(tree.right), own + 1)}`,
        tightness: own,
      };
    }
    case 'not':
      return { text: `not ${wrap(of(tree.operand), not)}`, tightness: not };
    case 'choose':
      return {
        text: `${wrap(of(tree.whenTrue), or)} if ${wrap(of(tree.selector), sum)} > 0 else ${wrap(of(tree.whenFalse), or)}`,
        tightness: choice,
      };
    case 'call':
      return emitCall(tree, of, nameOf, helpers);
  }

  function emitPower(base: Printed, exponent: Printed, written: Tree): Printed {
    // With `**` a negative base and a broken exponent would give a complex number without a word.
    const isWhole = written.kind === 'number' && Number.isInteger(written.value);
    return isWhole
      ? { text: `${wrap(base, atom)}**${wrap(exponent, sign)}`, tightness: power }
      : { text: `math.pow(${base.text}, ${exponent.text})`, tightness: atom };
  }
}

function emitCall(
  tree: Tree & { kind: 'call' },
  of: (tree: Tree) => Printed,
  nameOf: (name: string) => string,
  helpers: Set<PythonHelper>,
): Printed {
  const { atom, choice, or, product } = TIGHTNESS;
  const [first, second, third, fourth] = tree.arguments;
  const own = Object.hasOwn(SAME_ARGUMENTS, tree.name) ? SAME_ARGUMENTS[tree.name] : undefined;
  if (own !== undefined) {
    if (own === 'sign' || own === 'cube_root') helpers.add(own);
    return { text: `${own}(${tree.arguments.map((part) => of(part).text).join(', ')})`, tightness: atom };
  }
  if (tree.name === 'if' && first && second && third)
    return {
      text: `${wrap(of(second), or)} if ${of(first).text} else ${wrap(of(third), or)}`,
      tightness: choice,
    };
  if (tree.name === 'dry' && first && second) {
    helpers.add('sign');
    return { text: `${wrap(of(first), product)} * sign(${of(second).text})`, tightness: product };
  }
  if (tree.name === 'integrate' && first && second?.kind === 'name' && third && fourth) {
    helpers.add('integral');
    const bound = second.name;
    const inside = emit(first, (name) => (name === bound ? 'inner' : nameOf(name)), helpers);
    return {
      text: `integral(lambda inner: ${inside.text}, ${of(third).text}, ${of(fourth).text})`,
      tightness: atom,
    };
  }
  if (tree.name === 'interpolate' && first?.kind === 'name' && second) {
    helpers.add('curve');
    const order = third?.kind === 'number' ? third.value : 0;
    return {
      text: `curve(TABLES[${JSON.stringify(first.name)}], ${of(second).text}, ${order})`,
      tightness: atom,
    };
  }
  throw new Error(`No function is named "${tree.name}", or its derivative has not been worked out.`);
}

function wrap(part: Printed, least: number): string {
  return part.tightness < least ? `(${part.text})` : part.text;
}

function emitNumber(value: number): Printed {
  if (!Number.isFinite(value))
    return {
      text: Number.isNaN(value) ? 'math.nan' : value > 0 ? 'math.inf' : '-math.inf',
      tightness: TIGHTNESS.sign,
    };
  return {
    text: Object.is(value, -0) ? '-0.0' : String(value),
    tightness: value < 0 || Object.is(value, -0) ? TIGHTNESS.sign : TIGHTNESS.atom,
  };
}
