import {
  type Dimension,
  formatDimension,
  formatUnit,
  fromSI,
  type Kind,
  parseUnit,
  type Unit,
} from '../quantity/index.ts';
import type { Numbers } from './figure.ts';

/** Units with a name of their own, by the base units that they stand for (SI Brochure, 9th edition, table 4). */
const NAMED: ReadonlyMap<string, string> = new Map([
  ['kg·m/s²', 'N'],
  // Energy and torque have the same dimension; N·m is right for both.
  ['kg·m²/s²', 'N·m'],
  ['kg/s²', 'N/m'],
  ['kg·m²/s³', 'W'],
  ['kg/(m·s²)', 'Pa'],
  ['s·A', 'C'],
  ['kg·m²/(s³·A)', 'V'],
  ['kg·m²/(s³·A²)', 'Ω'],
  ['s⁴·A²/(kg·m²)', 'F'],
  ['kg·m²/(s²·A²)', 'H'],
  ['kg/(s²·A)', 'T'],
  ['kg·m²/(s²·A)', 'Wb'],
]);

/** Units that take a prefix, largest first, as they are used in a school laboratory. */
const PREFIXED: ReadonlyMap<string, readonly string[]> = new Map([
  ['m', ['m', 'mm', 'µm', 'nm']],
  ['kg', ['kg', 'g', 'mg']],
  ['s', ['s', 'ms', 'µs']],
  ['N', ['kN', 'N', 'mN', 'µN']],
  ['W', ['kW', 'W', 'mW', 'µW']],
  ['Pa', ['MPa', 'kPa', 'Pa']],
  ['C', ['C', 'mC', 'µC', 'nC']],
  ['V', ['kV', 'V', 'mV', 'µV']],
  ['A', ['A', 'mA', 'µA']],
  ['Ω', ['MΩ', 'kΩ', 'Ω']],
  ['F', ['F', 'mF', 'µF', 'nF', 'pF']],
  ['H', ['H', 'mH', 'µH']],
  ['T', ['T', 'mT', 'µT']],
  ['Wb', ['Wb', 'mWb', 'µWb']],
]);

/** A prefix is taken so that the largest value is at least this in its unit; a prefix above 1 only for full units. */
const LEAST_LARGEST = { above: 1, below: 0.2 } as const;

/** The unit of an axis: printed form, and the way from SI to it. */
export interface AxisUnit {
  readonly text: string;
  fromSI(value: number, as?: Kind): number;
}

/**
 * The unit in which values of a dimension are best shown: the one asked for, else the SI unit with a name, with the
 * prefix that keeps the numbers short.
 *
 * @param sets  values in SI that stand on the axis
 * @param asked the author's unit
 */
export function axisUnit(
  dimension: Dimension,
  sets: readonly Numbers[],
  asked: Unit | null = null,
): AxisUnit {
  if (asked !== null) return unitOf(asked);
  const bare = formatDimension(dimension);
  const name = NAMED.get(bare) ?? bare;
  const largest = largestOf(sets);
  const family = PREFIXED.get(name) ?? [name];
  const plain = family.indexOf(name);
  let chosen: Unit | null = null;
  for (const [index, text] of family.entries()) {
    const unit = parseUnit(text);
    if (!unit.ok || (largest === 0 && index !== plain)) continue;
    chosen = unit.value;
    const least = index < plain ? LEAST_LARGEST.above : LEAST_LARGEST.below;
    if (fromSI(largest, unit.value, 'interval') >= least) break;
  }
  return chosen === null ? { text: bare, fromSI: (value) => value } : unitOf(chosen);
}

function unitOf(unit: Unit): AxisUnit {
  return { text: formatUnit(unit), fromSI: (value, as = 'point') => fromSI(value, unit, as) };
}

function largestOf(sets: readonly Numbers[]): number {
  let largest = 0;
  for (const values of sets) {
    for (let i = 0; i < values.length; i++) {
      const size = Math.abs(values[i]);
      if (Number.isFinite(size) && size > largest) largest = size;
    }
  }
  return largest;
}

/** Values in the unit of an axis. */
export function inAxisUnit(values: Numbers, unit: AxisUnit, as: Kind = 'point'): Float64Array {
  return Float64Array.from({ length: values.length }, (_, i) => unit.fromSI(values[i], as));
}
