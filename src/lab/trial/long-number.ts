/** Powers of ten that a double holds exactly. */
export const exactPowers = Float64Array.from({ length: 23 }, (_, exponent) => Number(`1e${exponent}`));

const headDigits = 15;
const mostTailDigits = 4;

/**
 * The double nearest to a number of 16 to 19 digits, as programs print their doubles; any other goes through
 * Number().
 *
 * The digits become the exact sum of two doubles, which is multiplied or divided by an exact power of ten with a
 * relative error below 2^-95 (Dekker 1971, Numer. Math. 18, 224, https://doi.org/10.1007/BF01397083). Where the
 * result would round differently within a far wider margin, Number() decides: so the bits are always its own.
 *
 * @param from, to the bytes of the number, well-formed
 * @param decimal code of the decimal mark
 */
export function longNumber(utf8: Uint8Array, from: number, to: number, decimal: number): number {
  let head = 0;
  let tail = 0;
  let significant = 0;
  let scale = 0;
  let afterMark = 0;
  let p = from;
  for (; p < to; p++) {
    const byte = utf8[p];
    if (byte === decimal) afterMark = 1;
    else if (byte >= 48 && byte <= 57) {
      scale -= afterMark;
      if (significant === 0 && byte === 48) continue;
      significant++;
      if (significant <= headDigits) head = head * 10 + (byte - 48);
      else tail = tail * 10 + (byte - 48);
    } else if (byte === 69 || byte === 101) break;
  }
  if (p < to) scale += exponentOf(utf8, p + 1, to);
  const tailDigits = significant - headDigits;
  if (tailDigits < 1 || tailDigits > mostTailDigits || scale > 22 || scale < -22) {
    return numberOf(utf8, from, to, decimal);
  }
  const shifted = head * exactPowers[tailDigits];
  const lost = productError(head, exactPowers[tailDigits], shifted);
  const sum = shifted + tail;
  const rest = tail - (sum - shifted) + lost;
  const high = sum + rest;
  const low = rest - (high - sum);
  const power = exactPowers[Math.abs(scale)];
  const first = scale < 0 ? high / power : high * power;
  const correction =
    scale < 0
      ? (high - first * power - productError(first, power, first * power) + low) / power
      : productError(high, power, first) + low * power;
  const margin = Math.abs(correction) * 2 ** -40 + first * 2 ** -90;
  const value = first + (correction + margin);
  if (value !== first + (correction - margin)) return numberOf(utf8, from, to, decimal);
  return utf8[from] === 45 ? -value : value;
}

function exponentOf(utf8: Uint8Array, from: number, to: number): number {
  const signed = utf8[from] === 45 || utf8[from] === 43;
  let exponent = 0;
  for (let p = signed ? from + 1 : from; p < to; p++) exponent = exponent * 10 + (utf8[p] - 48);
  return utf8[from] === 45 ? -exponent : exponent;
}

/** What a·b lacks: a·b − product, exact (Dekker's product of halves). */
function productError(a: number, b: number, product: number): number {
  const splitA = a * 134_217_729;
  const highA = splitA - (splitA - a);
  const lowA = a - highA;
  const splitB = b * 134_217_729;
  const highB = splitB - (splitB - b);
  const lowB = b - highB;
  return lowA * lowB - (product - highA * highB - lowA * highB - highA * lowB);
}

function numberOf(utf8: Uint8Array, from: number, to: number, decimal: number): number {
  let text = '';
  for (let p = from; p < to; p++) text += utf8[p] === decimal ? '.' : String.fromCharCode(utf8[p]);
  return Number(text);
}
