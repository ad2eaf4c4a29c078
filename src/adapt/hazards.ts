import type { Unit } from '../quantity/index.ts';
import type { Extremes } from './extremes.ts';

/** A kind of hazard: what is computed, from which size on it is printed, and who says so. */
export interface Hazard {
  readonly kind: 'moving' | 'fast' | 'heavy' | 'elastic' | 'electric' | 'voltage' | 'current' | 'hot';
  readonly of: (extremes: Extremes) => number;
  readonly unit: Unit;
  /** In the unit. */
  readonly threshold: number;
  /** A published source; null for common practice without one. */
  readonly source: string | null;
}

const unit = (text: string, dimension: readonly number[], offset = 0): Unit => ({
  text,
  factor: 1,
  offset,
  dimension,
  angle: 0,
});

/** m/s */
export const METRE_PER_SECOND = unit('m/s', [1, 0, -1, 0, 0, 0, 0]);

const JOULE = unit('J', [2, 1, -2, 0, 0, 0, 0]);

/**
 * Thresholds are low on purpose: a caution too many costs a line, one too few may cost an eye.
 *
 * Sources: EN 71-1:2014, 4.17, lets rigid projectiles of toys have 0.08 J at most. IEC 60364-4-41:2005, 414.4.5, asks
 * for no protection against touch up to 25 V alternating (60 V direct) voltage where it is dry; the lower of the two
 * counts here, as a lab file does not say which it is. ISO 13732-1:2006 has 43 °C as the burn threshold of every
 * material for contact of eight hours and longer (values of the three standards from memory and from guides to them).
 * Stored electric energy stays below the 0.35 J of IEC 61010-1:2010, 6.3. The others are common practice.
 */
export const HAZARDS: readonly Hazard[] = [
  {
    kind: 'moving',
    of: ({ movingEnergy }) => movingEnergy,
    unit: JOULE,
    threshold: 0.08,
    source: 'EN 71-1:2014, 4.17',
  },
  {
    kind: 'fast',
    of: ({ speed }) => speed,
    unit: METRE_PER_SECOND,
    threshold: 1,
    source: null,
  },
  {
    kind: 'heavy',
    of: ({ mass }) => mass,
    unit: unit('kg', [0, 1, 0, 0, 0, 0, 0]),
    threshold: 0.5,
    source: null,
  },
  {
    kind: 'elastic',
    of: ({ elasticEnergy }) => elasticEnergy,
    unit: JOULE,
    threshold: 0.08,
    source: 'EN 71-1:2014, 4.17',
  },
  { kind: 'electric', of: ({ electricEnergy }) => electricEnergy, unit: JOULE, threshold: 0.1, source: null },
  {
    kind: 'voltage',
    of: ({ voltage }) => voltage,
    unit: unit('V', [2, 1, -3, -1, 0, 0, 0]),
    threshold: 25,
    source: 'IEC 60364-4-41:2005, 414.4.5',
  },
  {
    kind: 'current',
    of: ({ current }) => current,
    unit: unit('A', [0, 0, 0, 1, 0, 0, 0]),
    threshold: 2,
    source: null,
  },
  {
    kind: 'hot',
    of: ({ temperature }) => temperature,
    unit: unit('°C', [0, 0, 0, 0, 1, 0, 0], 273.15),
    threshold: 43,
    source: 'ISO 13732-1:2006',
  },
];

/** A hazard that passes its threshold, with its size in SI. */
export interface FoundHazard {
  readonly kind: Hazard['kind'];
  readonly size: number;
}

/** The hazards that the lab's own numbers show, each with its size; those below their thresholds are left out. */
export function findHazards(extremes: Extremes): readonly FoundHazard[] {
  return HAZARDS.flatMap((hazard): FoundHazard[] => {
    const size = hazard.of(extremes);
    return size - hazard.unit.offset > hazard.threshold ? [{ kind: hazard.kind, size }] : [];
  });
}
