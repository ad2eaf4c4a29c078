import type { Unit } from '../../quantity/index.ts';
import { type Block, type Inline, type Inlines, joinInlines, point, say } from '../document/index.ts';
import type { Extremes } from '../gather/index.ts';
import { LANGUAGES, phrasesOf } from '../language/index.ts';
import type { Desk } from './desk.ts';

/** A kind of hazard: what is computed, from which size on it is printed, and who says so. */
interface Hazard {
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

const JOULE = unit('J', [2, 1, -2, 0, 0, 0, 0]);

/**
 * Thresholds are low on purpose: a caution too many costs a line, one too few may cost an eye.
 *
 * That of voltages is the limit below which dry, normal conditions ask for no protection against touch.
 */
const HAZARDS: readonly Hazard[] = [
  { kind: 'moving', of: ({ movingEnergy }) => movingEnergy, unit: JOULE, threshold: 0.1, source: null },
  {
    kind: 'fast',
    of: ({ speed }) => speed,
    unit: unit('m/s', [1, 0, -1, 0, 0, 0, 0]),
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

/**
 * The cautions of a lab: those that its numbers ask for, then the author's own, then who decides.
 *
 * It is never empty: the closing sentence stands even where nothing passes a threshold.
 */
export function draftCautions(desk: Desk): Block {
  const { lab, phrases, names } = desk;
  const { closing } = phrases.cautions;
  const computed = findHazards(desk.gathered.extremes).map((found) => sayHazard(desk, found));
  const authors = lab.cautions
    .filter((text) => !saysWhoDecides(text))
    .map((text) => names.words(text.trim()));
  return { kind: 'caution', items: [...computed, ...authors], closing: joinInlines(closing) };
}

function sayHazard({ gathered, phrases }: Desk, { kind, size }: FoundHazard): Inlines {
  const hazard = HAZARDS.find((candidate) => candidate.kind === kind);
  if (hazard === undefined) return [];
  const value = sizeOf(hazard, size);
  const { cautions } = phrases;
  const limit: Inline = {
    kind: 'value',
    value: hazard.threshold,
    standardUncertainty: 0,
    unit: hazard.unit,
  };
  const why = cautions.threshold(limit, hazard.source ?? cautions.commonPractice);
  const words =
    kind === 'moving'
      ? cautions.moving(
          value,
          point(roundUp(gathered.extremes.speed), 0, unit('m/s', [1, 0, -1, 0, 0, 0, 0]), 2),
        )
      : cautions[kind](value);
  return say`${words} (${why})`;
}

/** To two digits, upwards: a limit from above stays one. */
function sizeOf(hazard: Hazard, size: number): Inline {
  return {
    kind: 'value',
    value: roundUp(size - hazard.unit.offset),
    standardUncertainty: 0,
    unit: hazard.unit,
    significant: 2,
  };
}

function roundUp(value: number): number {
  if (!(value > 0)) return value;
  const place = 10 ** (Math.floor(Math.log10(value)) - 1);
  return Number((Math.ceil(value / place - 1e-9) * place).toPrecision(2));
}

/** Authors often write the closing sentence themselves, in their own language; once is enough. */
function saysWhoDecides(text: string): boolean {
  return LANGUAGES.some((language) => bare(phrasesOf(language).cautions.closing) === bare(text));
}

function bare(sentence: string): string {
  return sentence
    .toLowerCase()
    .replace(/[^\p{L}]+/gu, ' ')
    .trim();
}
