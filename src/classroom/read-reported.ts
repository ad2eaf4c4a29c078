import type { Lab, LabResult, Setting } from '../lab/index.ts';
import { fail, nearestName, type Outcome, type Place, problem, succeed } from '../problem/index.ts';
import { formatUnit, parseMagnitude, sameDimension, toSI } from '../quantity/index.ts';
import type { StationOfGroup } from './list-stations.ts';
import type { ReportedNumber } from './mark-report.ts';

/**
 * Reads a number as somebody reports it: in the unit of the result where it has none of its own. The digits that are
 * written tell how far it was rounded (JCGM 100, F.2.2.1: half a step, rectangular).
 *
 * @param written '1.13', '1.13 1/s^2', '1,13'
 * @param u       the reporter's own standard uncertainty, as written; null for none
 */
export function readReportedNumber(
  result: LabResult,
  written: string,
  u: string | null,
  place: Place,
): Outcome<ReportedNumber> {
  const value = readInUnit(result, written, `the reported ${result.name}`, place);
  if (!value.ok) return value;
  const own =
    u === null
      ? succeed({ si: 0, step: 0 })
      : readInUnit(result, u, `the uncertainty of ${result.name}`, place);
  if (!own.ok) return own;
  if (u !== null && !(own.value.si > 0)) {
    const message = `The uncertainty of ${result.name} is ${u}; an uncertainty is above 0.`;
    return fail(problem('uncertainty-not-positive', place, message));
  }
  const rounding = value.value.step / Math.sqrt(12);
  return succeed({
    result,
    value: value.value.si,
    standardUncertainty: Math.hypot(rounding, own.value.si),
  });
}

function readInUnit(
  { name, unit }: LabResult,
  written: string,
  what: string,
  place: Place,
): Outcome<{ readonly si: number; readonly step: number }> {
  const read = parseMagnitude(written, 'point', { placeAt: () => place });
  if (!read.ok) {
    const message = `"${written}" is not a number; ${what} must be one.`;
    const advice =
      unit.text === '' || unit.text === '1' ? undefined : `In ${unit.text}, or with its own unit.`;
    return fail(problem('not-a-number', place, message, advice));
  }
  const { value, inUnit, unit: own, digits } = read.value;
  const isBare = own.text === '';
  if (!isBare && !sameDimension(own.dimension, unit.dimension)) {
    const message = `"${written}" is in ${formatUnit(own)}; ${name} is given in ${formatUnit(unit) || 'plain numbers'}.`;
    return fail(problem('wrong-dimension', place, message, 'Write it in that unit, or without one.'));
  }
  const si = isBare ? toSI(inUnit, unit, 'point') : value;
  const step = stepOf(digits) * (isBare ? unit.factor : own.factor);
  if (!Number.isFinite(si)) return fail(problem('not-a-number', place, `"${written}" is too large.`));
  return succeed({ si, step });
}

/** The step of the last written digit: 0.01 of '1.13', 1 of '12', 0.01 of '1.2e-1'. */
function stepOf(digits: string): number {
  const [mantissa = '', exponent = '0'] = digits
    .replace('−', '-')
    .replace(',', '.')
    .split(/[eE]|\s*[×*·x]\s*10\^?/);
  const decimals = /\.(\d*)/.exec(mantissa)?.[1]?.length ?? 0;
  const step = 10 ** (Number(exponent) - decimals);
  return Number.isFinite(step) ? step : 0;
}

/** Finds a result by its name. */
export function findResult(lab: Lab, name: string, place: Place): Outcome<LabResult> {
  const result = lab.results.find((candidate) => candidate.name === name);
  if (result !== undefined) return succeed(result);
  const names = lab.results.map((candidate) => candidate.name);
  const near = nearestName(name, names);
  const advice = near === undefined ? `The results are ${names.join(', ')}.` : `Did you mean "${near}"?`;
  return fail(problem('unknown-result', place, `"${name}" is not a result of this lab.`, advice));
}

/** Finds a station by its name; the settings of the lab as given where none is named. */
export function findStation(
  stations: readonly StationOfGroup[],
  name: string,
  place: Place,
): Outcome<readonly Setting[]> {
  if (name === '') return succeed([]);
  const station = stations.find((candidate) => candidate.name.toLowerCase() === name.toLowerCase());
  if (station !== undefined) return succeed(station.set);
  const names = stations.map((candidate) => candidate.name);
  const near = nearestName(name, names);
  const list = names.length > 12 ? `${names.slice(0, 12).join(', ')} …` : names.join(', ');
  const advice = near === undefined ? `The stations are ${list || 'none'}.` : `Did you mean "${near}"?`;
  return fail(problem('unknown-station', place, `"${name}" is not a station of this lab.`, advice));
}
