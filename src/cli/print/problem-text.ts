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

/** A problem as people read it: place, sentence, advice; and the line of the lab file with a mark under the column. */
export function printProblem(page: Page, found: Problem, excerpts: Excerpts | null): string[] {
  const place = shownPlace(found, excerpts);
  const advice = found.tryThis === undefined ? '' : ` ${found.tryThis}`;
  const style = found.severity === 'error' ? 'bad' : 'doubtful';
  const head =
    place === ''
      ? page.paint(found.severity === 'error' ? 'Problem:' : 'Note:', style)
      : page.paint(page.plain(place), 'strong');
  return [`${head}  ${page.plain(found.message + advice)}`, ...excerptOf(page, found, excerpts)];
}

/**
 * Notes, each once: equal ones are joined, with the places where they were met.
 */
export function printNotes(page: Page, notes: readonly Problem[], excerpts: Excerpts | null): string[] {
  const joined = new Map<string, { readonly note: Problem; readonly places: Set<string> }>();
  for (const note of notes) {
    const key = `${note.code} ${note.message} ${note.tryThis ?? ''}`;
    const known = joined.get(key) ?? { note, places: new Set<string>() };
    const place = shownPlace(note, excerpts);
    if (place !== '') known.places.add(place);
    joined.set(key, known);
  }
  return [...joined.values()].flatMap(({ note, places }) => {
    const where = listPlaces([...places]);
    const advice = note.tryThis === undefined ? '' : ` ${note.tryThis}`;
    const text = `${where === '' ? '' : `${where}: `}${note.message}${advice}`;
    return printParagraph(page, text, `  ${page.glyphs.bullet} `, '    ');
  });
}

const mostPlaces = 4;

function listPlaces(places: readonly string[]): string {
  if (places.length <= mostPlaces) return places.join('; ');
  return `${places.slice(0, mostPlaces - 1).join('; ')} and ${places.length - mostPlaces + 1} other places`;
}

function shownPlace(found: Problem, excerpts: Excerpts | null): string {
  const { file } = found.place;
  return formatPlace(
    file === undefined ? found.place : { ...found.place, file: `${excerpts?.prefix ?? ''}${file}` },
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
