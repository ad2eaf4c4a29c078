import {
  type Decimal,
  type DecimalMark,
  leadingPlace,
  printDecimal,
  roundToPlace,
  roundToSignificant,
  toDecimal,
} from './decimal.ts';
import type { Estimate } from './estimate.ts';
import { formatNotFinite, formatNumber, formatPowerOfTen } from './format-number.ts';
import { readUnit } from './parse-unit.ts';
import { fromSI, type Unit } from './unit.ts';

/** `plus-minus`: (1.2345 ± 0.0067) m; `brackets`: 1.2345(67) m, the digits in brackets count in the last places. */
export type Notation = 'plus-minus' | 'brackets';

export interface MeasuredFormat {
  /** Brackets unless given. */
  readonly notation?: Notation;
  /** The point unless given. */
  readonly decimalMark?: DecimalMark;
  /** Digits of a value whose uncertainty is 0 or not known; 12 without zeros at the end, or 4, unless given. */
  readonly significant?: number;
}

/** Value and uncertainty, both in `unit`, with how to print them. */
export interface MeasuredValue extends MeasuredFormat {
  readonly value: number;
  readonly standardUncertainty: number;
  readonly unit: Unit | string;
}

/** Values with their first digit at these powers of ten are printed without an exponent. */
const plainPlaces = { least: -3, most: 5 } as const;

/** JCGM 100:2008, 7.2.6: it usually suffices to quote an uncertainty to at most two significant digits. */
const uncertaintyDigits = 2;

/**
 * A measured value with its standard uncertainty to two significant digits, the value to the same place:
 * `(1.2345 ± 0.0067) m`, `1.2345(67) m`, `(5.36 ± 0.17)×10⁻⁴ kg`, `52.10(23)°`.
 *
 * Value and uncertainty are printed as given, in `unit`; nothing is converted (see `formatEstimate`). A half is rounded
 * away from 0. A power of ten appears below 0.001, from 1e6 on, and wherever zeros would stand in places that are not
 * significant: 12300 ± 1200 is (1.23 ± 0.12)×10⁴.
 *
 * An uncertainty of 0 prints the value alone; one that is not a finite number prints `(u unknown)` behind it.
 *
 * Source: JCGM 100:2008, 7.2.2 and 7.2.6; rounding rule of ISO 80000-1:2009, Annex B, rule B
 */
export function formatMeasured(measured: MeasuredValue): string {
  const { value, standardUncertainty, notation = 'brackets', decimalMark = '.' } = measured;
  const unit = withSpace(formatUnit(measured.unit));
  if (!Number.isFinite(value)) return formatNotFinite(value);
  if (!Number.isFinite(standardUncertainty))
    return `${formatNumber(value, { significant: measured.significant ?? 4, decimalMark })}${unit} (u unknown)`;
  if (standardUncertainty === 0)
    return formatNumber(value, { significant: measured.significant, decimalMark }) + unit;
  const { rounded, uncertainty, scale } = roundTogether(value, Math.abs(standardUncertainty));
  const valueText = printDecimal(rounded, decimalMark, scale);
  const power = formatPowerOfTen(scale);
  if (notation === 'brackets') return `${valueText}(${uncertainty.coefficient})${power}${unit}`;
  const both = `${valueText} ± ${printDecimal(uncertainty, decimalMark, scale)}`;
  return power === '' && unit === '' ? both : `(${both})${power}${unit}`;
}

/** An estimate in SI units, printed in `unit`: value as a point of the scale, uncertainty as an interval. */
export function formatEstimate(
  estimate: Pick<Estimate, 'value' | 'standardUncertainty'>,
  unit: Unit,
  format: MeasuredFormat = {},
): string {
  return formatMeasured({
    ...format,
    value: fromSI(estimate.value, unit, 'point'),
    standardUncertainty: fromSI(estimate.standardUncertainty, unit, 'interval'),
    unit,
  });
}

/**
 * A unit in print: `kg m^2` is `kg·m²`, `degC` is `°C`, `10us` stays as it is because it is no unit. The author's
 * choice of units and of slash or negative exponent is kept. The unit of a plain number prints as nothing.
 */
export function formatUnit(unit: Unit | string): string {
  const text = typeof unit === 'string' ? unit : unit.text;
  const read = readUnit(text);
  return read.ok ? read.value.printed : text;
}

/** A space before a unit, but none before the signs of an angle (SI Brochure, 9th edition, 5.4.3). */
function withSpace(unit: string): string {
  return unit === '' || /^[°\u2032\u2033]$/.test(unit) ? unit : ` ${unit}`;
}

interface RoundedPair {
  readonly rounded: Decimal;
  readonly uncertainty: Decimal;
  /** Power of ten that both are divided by. */
  readonly scale: number;
}

function roundTogether(value: number, standardUncertainty: number): RoundedPair {
  const uncertainty = roundToSignificant(toDecimal(standardUncertainty), uncertaintyDigits);
  const rounded = roundToPlace(toDecimal(value), uncertainty.place);
  const lead = Math.max(leadingPlace(rounded), leadingPlace(uncertainty));
  const plain = uncertainty.place <= 0 && lead >= plainPlaces.least && lead <= plainPlaces.most;
  return { rounded, uncertainty, scale: plain ? 0 : lead };
}
