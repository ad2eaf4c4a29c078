import type { LabResult, Slip } from '../lab/index.ts';
import { formatNumber, formatUnit, fromSI } from '../quantity/index.ts';
import type { Cause } from './hypotheses.ts';
import { type MarkingLanguage, type MarkingPhrases, phrasesOf } from './language/index.ts';
import type { MarkedReport, RankedCause, ReportedNumber } from './mark-report.ts';

type Band = MarkedReport['bands'][number];

/** A few words for a cause: 'correct', 'diameter for radius', 'rolling resistance, 2.1 times as large'. */
export function nameCause(cause: Cause, language: MarkingLanguage = 'en'): string {
  const phrases = phrasesOf(language);
  switch (cause.kind) {
    case 'correct':
      return phrases.correct;
    case 'slip':
      return cause.slip.name;
    case 'pair':
      return cause.slips.map(({ name }) => name).join(phrases.and);
    case 'effect':
      return phrases.effect(cause.effect, sayTimes(cause.times, phrases));
    case 'unknown':
      return phrases.unknown;
  }
}

/** The sentence that helps, for whoever reported the numbers. */
export function explainCause(
  { cause }: RankedCause,
  { numbers, bands }: Pick<MarkedReport, 'numbers' | 'bands'>,
  language: MarkingLanguage = 'en',
): string {
  const phrases = phrasesOf(language);
  const names = joinNames(numbers, phrases);
  const count = numbers.length;
  switch (cause.kind) {
    case 'correct': {
      const words = numbers.map((number, index) => sayGroupsFind(number, bands[index], phrases));
      return phrases.asExpected(names, count, words.join('; '));
    }
    case 'slip':
      return `${phrases.comesOut(names, count, phrase(cause.slip, phrases))}${help([cause.slip])}`;
    case 'pair': {
      const slipped = cause.slips.map((slip) => phrase(slip, phrases)).join(phrases.andWhen);
      return `${phrases.comesOut(names, count, slipped)}${help(cause.slips)}`;
    }
    case 'effect':
      return phrases.larger(names, cause.effect, sayTimes(cause.times, phrases));
    case 'unknown':
      return phrases.nothingGives(count);
  }
}

/** Where a reported number lies, without a full stop: 'k2 lies outside what 95 % of groups find, 2.18 … 2.28 1/s²'. */
export function sayBand(result: LabResult, band: Band, language: MarkingLanguage = 'en'): string {
  const phrases = phrasesOf(language);
  const say = (si: number): string => saySize(si, result, phrases);
  return phrases.lies(result.name, band.isWithin, say(band.low), say(band.high), unitText(result));
}

/** 'The readings, reduced as they should be, give k2 = 2.223 1/s².' */
export function sayFromData(
  numbers: readonly ReportedNumber[],
  fromData: readonly number[],
  language: MarkingLanguage = 'en',
): string {
  const phrases = phrasesOf(language);
  const values = numbers.map(({ result }, index) =>
    `${result.name} = ${saySize(fromData[index] ?? Number.NaN, result, phrases)} ${unitText(result)}`.trim(),
  );
  return phrases.fromData(values.join(', '));
}

function phrase({ is, name }: Slip, { slipNamed }: MarkingPhrases): string {
  const words = is === '' ? slipNamed(name) : is;
  return words.replace(/\.$/, '');
}

function help(slips: readonly Slip[]): string {
  const words = slips.map(({ helps }) => helps).filter((text) => text !== '');
  return words.map((text) => ` ${/[.!?]$/.test(text) ? text : `${text}.`}`).join('');
}

function joinNames(numbers: readonly ReportedNumber[], { and }: MarkingPhrases): string {
  const names = numbers.map(({ result }) => result.name);
  const last = names[names.length - 1] ?? '';
  return names.length <= 1 ? last : `${names.slice(0, -1).join(', ')}${and}${last}`;
}

function sayGroupsFind({ result }: ReportedNumber, band: Band | undefined, phrases: MarkingPhrases): string {
  if (band === undefined) return result.name;
  const say = (si: number): string => saySize(si, result, phrases);
  return phrases.groupsFind(result.name, say(band.low), say(band.high), unitText(result));
}

function saySize(si: number, { unit }: LabResult, { decimalMark }: MarkingPhrases): string {
  return formatNumber(fromSI(si, unit, 'point'), { significant: 4, decimalMark });
}

function unitText({ unit }: LabResult): string {
  const text = formatUnit(unit);
  return text === '1' ? '' : text;
}

function sayTimes(times: number, { decimalMark }: MarkingPhrases): string {
  return formatNumber(times, { significant: 2, decimalMark });
}
