import { fail, type Origin, type Outcome, type Place, problem, succeed } from '../problem/index.ts';
import { readNumberText } from './number-text.ts';
import { parseUnit } from './parse-unit.ts';
import { decadeOf, type Kind, toSI, type Unit } from './unit.ts';

/** A number with its unit, as an author wrote it. */
export interface Magnitude {
  /** In SI units. */
  readonly value: number;
  /** In the unit as written. */
  readonly inUnit: number;
  readonly unit: Unit;
  /** The number as written: `1.200`, `2.5×10^-3`; its digits say how it wants to be printed. */
  readonly digits: string;
}

/**
 * Reads a number with its unit: `1.200 m`, `1,200 m` (decimal comma), `0.2e-6 kg m^2`, `2.5×10^-3 m`, `12 000 s`,
 * `52.1°`; a number alone is dimensionless.
 *
 * The comma is a decimal mark, never a mark of thousands; thousands may be parted by a space. The SI value of a
 * unit that is a power of ten is the double nearest to the decimal text: 96.4 g is exactly the double 0.0964.
 *
 * @param as whether °C and °F count from their zero (`point`) or are differences (`interval`)
 * @returns the magnitude, or every problem: `number-syntax`, `number-out-of-range`, `bare-uncertainty`, and those of `parseUnit`
 */
export function parseMagnitude(text: string, as: Kind, origin?: Origin): Outcome<Magnitude> {
  const placeAt = (offset: number): Place => origin?.placeAt(offset) ?? { column: offset + 1 };
  const number = readNumberText(text);
  if (!number.ok) return fail(problem(number.code, placeAt(number.offset), number.message, number.tryThis));
  const unitStart = number.end + (text.slice(number.end).length - text.slice(number.end).trimStart().length);
  const unitText = text.slice(unitStart).trimEnd();
  const unit = parseUnit(unitText, { placeAt: (offset) => placeAt(unitStart + offset) });
  if (!unit.ok) return unit;
  // Adding 0 turns a written -0 into 0, which prints without a sign.
  const inUnit = Number(number.decimal) + 0;
  const value = scaleText(number.decimal, inUnit, unit.value, as);
  if (!Number.isFinite(value) || (value === 0 && inUnit !== 0))
    return fail(
      problem(
        'number-out-of-range',
        placeAt(number.start),
        `${number.digits} ${unitText} is too ${value === 0 ? 'small' : 'large'} to compute with in SI units.`,
      ),
    );
  return succeed({ value, inUnit, unit: unit.value, digits: number.digits });
}

/** Shifting the decimal exponent of the text rounds once, where reading and then multiplying would round twice. */
function scaleText(decimal: string, inUnit: number, unit: Unit, as: Kind): number {
  const decade = decadeOf(unit.factor);
  if (decade === undefined || unit.offset !== 0) return toSI(inUnit, unit, as);
  const [mantissa, exponent = '0'] = decimal.split('e');
  return Number(`${mantissa}e${Number(exponent) + decade}`) + 0;
}
