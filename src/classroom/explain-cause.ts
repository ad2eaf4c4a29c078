import type { Slip } from '../lab/index.ts';
import { formatNumber, formatUnit, fromSI } from '../quantity/index.ts';
import type { Cause } from './hypotheses.ts';
import type { MarkedReport, RankedCause, ReportedNumber } from './mark-report.ts';

/** A few words for a cause: 'correct', 'diameter for radius', 'rolling resistance, 2.1 times as large'. */
export function nameCause(cause: Cause): string {
  switch (cause.kind) {
    case 'correct':
      return 'correct';
    case 'slip':
      return cause.slip.name;
    case 'pair':
      return cause.slips.map(({ name }) => name).join(' and ');
    case 'effect':
      return `${cause.effect}, ${sayTimes(cause.times)} as large`;
    case 'unknown':
      return 'nothing known';
  }
}

/** The sentence that helps, for whoever reported the numbers. */
export function explainCause({ cause }: RankedCause, { numbers, bands }: MarkedReport): string {
  const your = `Your ${joinNames(numbers)}`;
  const verb = numbers.length === 1 ? 'is' : 'are';
  switch (cause.kind) {
    case 'correct': {
      const words = numbers.map((number, index) => sayBand(number, bands[index]));
      return `${your} ${verb} as expected: ${words.join('; ')}.`;
    }
    case 'slip':
      return `${your} ${verb} what comes out when ${phrase(cause.slip)}.${help([cause.slip])}`;
    case 'pair':
      return `${your} ${verb} what comes out when ${cause.slips.map(phrase).join(', and ')}.${help(cause.slips)}`;
    case 'effect':
      return `${your} would come out if "${cause.effect}" were about ${sayTimes(cause.times)} as large as the lab assumes. Measure it on this apparatus.`;
    case 'unknown':
      return `No slip that is known here, and no effect within reason, gives ${numbers.length === 1 ? 'this number' : 'these numbers'}. Go through the readings together.`;
  }
}

function phrase({ is, name }: Slip): string {
  const words = is === '' ? `the slip "${name}" is made` : is;
  return words.replace(/\.$/, '');
}

function help(slips: readonly Slip[]): string {
  const words = slips.map(({ helps }) => helps).filter((text) => text !== '');
  return words.map((text) => ` ${/[.!?]$/.test(text) ? text : `${text}.`}`).join('');
}

function joinNames(numbers: readonly ReportedNumber[]): string {
  const names = numbers.map(({ result }) => result.name);
  const last = names[names.length - 1] ?? '';
  return names.length <= 1 ? last : `${names.slice(0, -1).join(', ')} and ${last}`;
}

function sayBand({ result }: ReportedNumber, band: MarkedReport['bands'][number] | undefined): string {
  if (band === undefined) return result.name;
  const say = (value: number) => formatNumber(fromSI(value, result.unit, 'point'), { significant: 4 });
  const unit = formatUnit(result.unit);
  return `95 % of groups find ${result.name} between ${say(band.low)} and ${say(band.high)}${unit === '' || unit === '1' ? '' : ` ${unit}`}`;
}

function sayTimes(times: number): string {
  return `${formatNumber(times, { significant: 2 })} times`;
}
