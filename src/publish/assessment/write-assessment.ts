import { strToU8, type Zippable, zipSync } from 'fflate';
import { formatNumber, formatUnit, fromSI } from '../../quantity/index.ts';
import type { LabDocumentTree } from '../document/index.ts';
import type { AssessedResult, AssessedStation } from '../writing/index.ts';
import { assessmentWords } from './assessment-words.ts';
import type { NumericItem } from './qti-items.ts';
import { type ItemSection, qtiPackage } from './qti-package.ts';

/** The first moment that a zip archive can name. */
const NO_TIME = new Date(1980, 0, 1);

/**
 * The answer key as a QTI 3 package (.zip) for any learning platform: an item for each result of each station, right
 * within the band of 95 % of groups.
 *
 * Same lab, same bytes.
 */
export function writeAssessment(
  { title, settings }: Pick<LabDocumentTree, 'title' | 'settings'>,
  stations: readonly AssessedStation[],
): Uint8Array {
  const { language, decimalMark } = settings;
  const words = assessmentWords(language);
  const sections = stations.map((station, index): ItemSection => {
    const place = index + 1;
    return {
      identifier: `STATION-${place}`,
      title: station.name === '' ? title : words.station(station.name),
      items: station.results.map((result, at): NumericItem => {
        const unit = formatUnit(result.unit);
        const name = result.is === '' ? result.name : `${result.name} (${result.is})`;
        return {
          identifier: `S${place}-R${at + 1}`,
          title: station.name === '' ? result.name : `${words.station(station.name)}: ${result.name}`,
          ask: [
            ...(station.set === '' ? [] : [words.youHave(station.set)]),
            words.whatIs(name, unit === '1' ? '' : unit),
          ],
          unit: unit === '1' ? '' : unit,
          answer: fromSI(result.expected, result.unit, 'point'),
          tolerance: fromSI(result.tolerance, result.unit, 'interval'),
          feedback: words.answer(...bandOf(result, decimalMark)),
        };
      }),
    };
  });
  const files = qtiPackage(title, sections, language);
  const out: Zippable = {};
  for (const [name, content] of files) out[name] = [strToU8(content), { mtime: NO_TIME, os: 0, level: 6 }];
  return zipSync(out);
}

function bandOf(
  { expected, tolerance, unit }: AssessedResult,
  decimalMark: '.' | ',',
): readonly [low: string, high: string, unit: string] {
  const decimals = Math.max(
    1 - Math.floor(Math.log10(Math.abs(fromSI(tolerance, unit, 'interval')) || 1)),
    0,
  );
  const say = (value: number) =>
    formatNumber(fromSI(value, unit, 'point'), { decimals: Math.min(decimals, 12), decimalMark });
  const text = formatUnit(unit);
  return [say(expected - tolerance), say(expected + tolerance), text === '1' ? '' : text];
}
