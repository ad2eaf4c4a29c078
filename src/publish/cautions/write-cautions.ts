import {
  type Extremes,
  type FoundHazard,
  findHazards,
  HAZARDS,
  type Hazard,
  METRE_PER_SECOND,
} from '../../adapt/index.ts';
import type { Lab } from '../../lab/index.ts';
import { type Block, type Inline, type Inlines, joinInlines, point, say } from '../document/index.ts';
import { LANGUAGES, type Phrases, phrasesOf } from '../language/index.ts';

/** What cautions are written from. */
export interface CautionSources {
  readonly lab: Lab;
  readonly extremes: Extremes;
  readonly phrases: Phrases;
  /** Sets an author's words. */
  readonly words: (text: string) => Inlines;
}

/**
 * The cautions of a lab: those that its numbers ask for, then the author's own, then who decides.
 *
 * It is never empty: the closing sentence stands even where nothing passes a threshold.
 *
 * @param readers staff also read from which size on a caution stands there, and who says so
 */
export function writeCautions(
  sources: CautionSources,
  readers: 'students' | 'staff',
): Extract<Block, { readonly kind: 'caution' }> {
  const { lab, extremes, phrases, words } = sources;
  const { closing } = phrases.cautions;
  const computed = findHazards(extremes).map((found) => sayHazard(sources, found, readers));
  const authors = lab.cautions.filter((text) => !saysWhoDecides(text)).map((text) => words(text.trim()));
  return { kind: 'caution', items: [...computed, ...authors], closing: joinInlines(closing) };
}

function sayHazard(
  { extremes, phrases }: CautionSources,
  { kind, size }: FoundHazard,
  readers: 'students' | 'staff',
): Inlines {
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
      ? cautions.moving(value, point(roundUp(extremes.speed), 0, METRE_PER_SECOND, 2))
      : cautions[kind](value);
  return readers === 'students' ? joinInlines(words) : say`${words} (${why})`;
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
