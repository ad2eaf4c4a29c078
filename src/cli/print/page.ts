import pc from 'picocolors';
import type { DecimalMark } from '../../quantity/index.ts';
import type { Environment, TextStream } from '../environment.ts';
import { asciiGlyphs, type Glyphs, unicodeGlyphs } from './glyphs.ts';
import { tame, toAscii } from './plain-text.ts';

/** What text is printed on: how wide, with which signs, colours and decimal mark. */
export interface Page {
  readonly width: number;
  readonly glyphs: Glyphs;
  readonly paint: Paint;
  readonly decimalMark: DecimalMark;
  /** Makes a text fit for the page; to be done before its width is measured. */
  plain(text: string): string;
}

export type Style = 'strong' | 'faint' | 'good' | 'doubtful' | 'bad' | 'effect';

/** Colours a text that is already padded. */
export type Paint = (text: string, style: Style) => string;

/** Narrower terminals break long lines themselves; on wider ones tables would fall apart. */
const narrowest = 80;
const widest = 120;

/** Where nobody says how wide the page is: a file, a pipe. */
const usual = 100;

/** The page that a stream of text is, as the person who looks at it has set it up. */
export function pageOf(stream: TextStream, environment: Environment, decimalMark: DecimalMark): Page {
  const { variables } = environment;
  const unicode = speaksUnicode(variables);
  return {
    width: Math.min(Math.max(stream.columns ?? usual, narrowest), widest),
    glyphs: unicode ? unicodeGlyphs : asciiGlyphs,
    paint: makePaint(wantsColour(stream, variables)),
    decimalMark,
    plain: (text) => (unicode ? tame(text) : toAscii(tame(text))),
  };
}

/** Colour only for a terminal, and never where NO_COLOR is set (no-color.org: any text that is not empty). */
function wantsColour(stream: TextStream, variables: Environment['variables']): boolean {
  const refused = variables.NO_COLOR !== undefined && variables.NO_COLOR !== '';
  return stream.isTerminal && !refused && variables.TERM !== 'dumb';
}

/** The first of these that is set decides on the character set (POSIX.1-2017, Base Definitions, 8.2); none: UTF-8. */
function speaksUnicode(variables: Environment['variables']): boolean {
  const locale = [variables.LC_ALL, variables.LC_CTYPE, variables.LANG].find(
    (name) => name !== undefined && name !== '',
  );
  return locale === undefined || /utf-?8/i.test(locale);
}

function makePaint(colourful: boolean): Paint {
  const colours = pc.createColors(colourful);
  const ofStyle: Readonly<Record<Style, (text: string) => string>> = {
    strong: colours.bold,
    faint: colours.dim,
    good: colours.green,
    doubtful: colours.yellow,
    bad: colours.red,
    effect: colours.cyan,
  };
  return (text, style) => (text === '' ? text : ofStyle[style](text));
}
