import { add, type DoubleDouble, divide, extend, multiply, multiplyExactly } from './double-double.ts';

/**
 * The decimal number that a person wrote for this double: 0.1 means one tenth, not the double nearest to it.
 *
 * Taken from the shortest decimal text that reads back as the double, to 32 digits.
 */
export function extendDecimal(value: number): DoubleDouble {
  if (Number.isInteger(value) || !Number.isFinite(value)) return extend(value);
  const [mantissa, exponent] = Math.abs(value).toExponential().split('e');
  const digits = mantissa.replace('.', '');
  // Two halves, each exact as a double.
  const head = digits.slice(0, 9);
  const tail = digits.slice(9);
  const whole = add(multiplyExactly(Number(head), 10 ** tail.length), extend(tail === '' ? 0 : Number(tail)));
  const power = Number(exponent) - (digits.length - 1);
  const scale = powerOfTen(Math.abs(power));
  const size = power < 0 ? divide(whole, scale) : multiply(whole, scale);
  return value < 0 ? { high: -size.high, low: -size.low } : size;
}

function powerOfTen(exponent: number): DoubleDouble {
  // 10²² is the largest power of ten that is a double.
  let product = extend(1);
  for (let rest = exponent; rest > 0; rest -= 22)
    product = multiply(product, extend(10 ** Math.min(22, rest)));
  return product;
}
