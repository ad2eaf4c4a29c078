/**
 * A number held as the unevaluated sum of two doubles, |low| ≤ half a unit in the last place of high:
 * about 32 significant digits.
 *
 * Sources: Dekker, Numer. Math. 18 (1971) 224–242 (exact product); Knuth, The Art of Computer Programming 2,
 * section 4.2.2 (exact sum); Joldes, Muller, Popescu, ACM Trans. Math. Softw. 44 (2017) 15 (bounds).
 */
export interface DoubleDouble {
  readonly high: number;
  readonly low: number;
}

const SPLITTER = 134217729; // 2^27 + 1

/** a + b exactly, as a rounded sum and its error. */
export function addExactly(a: number, b: number): DoubleDouble {
  const high = a + b;
  const part = high - a;
  return { high, low: a - (high - part) + (b - part) };
}

/** a·b exactly, as a rounded product and its error; |a|, |b| below 2^996. */
export function multiplyExactly(a: number, b: number): DoubleDouble {
  const high = a * b;
  const ca = SPLITTER * a;
  const aHigh = ca - (ca - a);
  const aLow = a - aHigh;
  const cb = SPLITTER * b;
  const bHigh = cb - (cb - b);
  const bLow = b - bHigh;
  return { high, low: aLow * bLow - (high - aHigh * bHigh - aLow * bHigh - aHigh * bLow) };
}

/** The pair with its low part brought below half a unit in the last place of the high one. */
function renormalise(high: number, low: number): DoubleDouble {
  const sum = high + low;
  return { high: sum, low: low - (sum - high) };
}

export function extend(a: number): DoubleDouble {
  return { high: a, low: 0 };
}

/** a + b to about 2⁻¹⁰⁴ relative. */
export function add(a: DoubleDouble, b: DoubleDouble): DoubleDouble {
  const high = addExactly(a.high, b.high);
  const low = addExactly(a.low, b.low);
  const first = renormalise(high.high, high.low + low.high);
  return renormalise(first.high, first.low + low.low);
}

export function negate(a: DoubleDouble): DoubleDouble {
  return { high: -a.high, low: -a.low };
}

/** a − b to about 2⁻¹⁰⁴ relative. */
export function subtract(a: DoubleDouble, b: DoubleDouble): DoubleDouble {
  return add(a, negate(b));
}

/** a·b to about 2⁻¹⁰² relative. */
export function multiply(a: DoubleDouble, b: DoubleDouble): DoubleDouble {
  const product = multiplyExactly(a.high, b.high);
  return renormalise(product.high, product.low + (a.high * b.low + a.low * b.high));
}

/** a/b to about 2⁻¹⁰⁰ relative: two corrections of the plain quotient. */
export function divide(a: DoubleDouble, b: DoubleDouble): DoubleDouble {
  const first = a.high / b.high;
  if (!Number.isFinite(first)) return { high: first, low: 0 };
  const rest = subtract(a, multiply(b, extend(first)));
  const second = rest.high / b.high;
  const left = subtract(rest, multiply(b, extend(second)));
  return add(renormalise(first, second), extend(left.high / b.high));
}

/** Square root to about 2⁻¹⁰⁰ relative: one Newton step from the plain root. */
export function squareRoot(a: DoubleDouble): DoubleDouble {
  if (!(a.high > 0)) return { high: Math.sqrt(a.high), low: 0 };
  const root = Math.sqrt(a.high);
  const rest = subtract(a, multiplyExactly(root, root));
  return renormalise(root, rest.high / (2 * root));
}
