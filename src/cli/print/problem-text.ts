import { posix } from 'node:path';
import type { Problem } from '../../problem/index.ts';
import { formatPlace } from '../../problem/index.ts';
import type { Page } from './page.ts';
import { printParagraph } from './table.ts';

/** How places in a lab are shown: the folder as the user named it, and the text of the lab file for excerpts. */
export interface Excerpts {
  /** 'labs/tow-chain/', or '' where the lab is the current folder. */
  readonly prefix: string;
  readonly labFile: string;
  readonly text: string;
}

/** Longest piece of a line that is shown beside a message. */
const longestExcerpt = 76;

/**
 * Problems as people read them: place, sentence, advice, and the line of the lab file with a mark under the column.
 * Equal sentences about several runs are said once, with the runs; each place in a file has a message of its own.
 */
export function printProblems(page: Page, problems: readonly Problem[], excerpts: Excerpts | null): string[] {
  const own = ({ place }: Problem) => (place.line === undefined ? '' : formatPlace({ ...place, step: '' }));
  return joinEqual(problems, excerpts, own).flatMap(({ found, places }) => {
    const style = found.severity === 'error' ? 'bad' : 'doubtful';
    const where = listPlaces(places);
    const head = where === '' ? page.paint('Problem:', style) : page.paint(page.plain(where), 'strong');
    return [`${head}  ${page.plain(sentencesOf(found))}`, ...excerptOf(page, found, excerpts)];
  });
}

/** Notes as a list, each once. */
export function printNotes(page: Page, notes: readonly Problem[], excerpts: Excerpts | null): string[] {
  return joinEqual(notes, excerpts, () => '').flatMap(({ found, places }) => {
    const where = listPlaces(places);
    const text = `${where === '' ? '' : `${where}: `}${sentencesOf(found)}`;
    return printParagraph(page, text, `  ${page.glyphs.bullet} `, '    ');
  });
}

function sentencesOf({ message, tryThis }: Problem): string {
  return tryThis === undefined ? message : `${message} ${tryThis}`;
}

function joinEqual(
  problems: readonly Problem[],
  excerpts: Excerpts | null,
  keptApartBy: (found: Problem) => string,
): readonly { readonly found: Problem; readonly places: readonly string[] }[] {
  const joined = new Map<string, { readonly found: Problem; readonly places: string[] }>();
  for (const found of problems) {
    const key = JSON.stringify([found.code, sentencesOf(found), keptApartBy(found)]);
    const known = joined.get(key) ?? { found, places: [] };
    const place =
      known.places.length === 0
        ? shownPlace(found, excerpts)
        : (found.place.step ?? shownPlace(found, excerpts));
    if (place !== '' && !known.places.includes(place)) known.places.push(place);
    joined.set(key, known);
  }
  return [...joined.values()];
}

/** More places than this are counted, not listed. */
const mostPlaces = 4;

function listPlaces(places: readonly string[]): string {
  if (places.length <= mostPlaces) return places.join('; ');
  return `${places.slice(0, mostPlaces - 1).join('; ')} and ${places.length - mostPlaces + 1} other places`;
}

function shownPlace(found: Problem, excerpts: Excerpts | null): string {
  const { file } = found.place;
  return formatPlace(
    // A file that the user named beside the lab is told from the lab's folder: 'labs/tow-chain/../readings.csv'.
    file === undefined
      ? found.place
      : { ...found.place, file: posix.normalize(`${excerpts?.prefix ?? ''}${file}`) },
  );
}

/** The line that a place names, cut around its column, and a mark under the column. */
function excerptOf(page: Page, found: Problem, excerpts: Excerpts | null): string[] {
  const { file, line, column } = found.place;
  if (excerpts === null || file !== excerpts.labFile || line === undefined || column === undefined) return [];
  const whole = excerpts.text.split(/\r\n|\r|\n/)[line - 1];
  if (whole === undefined || whole.trim() === '') return [];
  const skipped = Math.max(0, Math.min(column - 21, whole.length - longestExcerpt));
  const shown = whole.slice(skipped, skipped + longestExcerpt);
  const number = String(line).padStart(5);
  const under = ' '.repeat(Math.max(column - 1 - skipped, 0));
  return [
    page.paint(`${number} ${page.glyphs.margin} ${page.plain(shown)}`, 'faint'),
    page.paint(`${' '.repeat(number.length)} ${page.glyphs.margin} ${under}`, 'faint') +
      page.paint(page.glyphs.caret, 'bad'),
  ];
}
