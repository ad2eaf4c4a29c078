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
 * That of voltages is the limit below which dry, normal conditions ask for no protection against touch.
 */
export const HAZARDS: readonly Hazard[] = [
  { kind: 'moving', of: ({ movingEnergy }) => movingEnergy, unit: JOULE, threshold: 0.1, source: null },
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
  { kind: 'elastic', of: ({ elasticEnergy }) => elasticEnergy, unit: JOULE, threshold: 0.1, source: null },
  { kind: 'electric', of: ({ electricEnergy }) => electricEnergy, unit: JOULE, threshold: 0.1, source: null },
  {
    kind: 'voltage',
    of: ({ voltage }) => voltage,
    unit: unit('V', [2, 1, -3, -1, 0, 0, 0]),
    threshold: 25,
    source: null,
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
    threshold: 45,
    source: null,
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
