import type { Root } from 'mdast';
import { directiveFromMarkdown } from 'mdast-util-directive';
import { fromMarkdown } from 'mdast-util-from-markdown';
import { gfmTableFromMarkdown } from 'mdast-util-gfm-table';
import { directive } from 'micromark-extension-directive';
import { gfmTable } from 'micromark-extension-gfm-table';
import { fail, type Outcome, problem, succeed } from '../../problem/index.ts';

/** A text of more characters is no handout. */
const LONGEST_TEXT = 500_000;

/** Marks of quotations and lists that stand before one line; more of them exhaust the reader, and serve nobody. */
const DEEPEST_LINE = /^(?:[ \t]*(?:[>*+-]|\d{1,9}[.)])[ \t]?){33}/mu;

/** Brackets and stars within one another, as above. */
const DEEPEST_RUN = /[[(*_]{200}|(?:\[[^\]\n]{0,3}){200}|(?:!\[){100}/u;

/**
 * Reads CommonMark with tables and with generic directives (`:name[label]{attributes}`, `::name`, `:::name`).
 *
 * @returns the syntax tree with the position of every part; fails for a text that is too long or nested too deep
 * Source of the forms: CommonMark 0.31.2; the generic directives proposal of the CommonMark forum
 */
export function parseMarkdown(source: string, file: string): Outcome<Root> {
  if (source.length > LONGEST_TEXT) {
    const message = `The text has ${source.length} characters; a text has at most ${LONGEST_TEXT}.`;
    return fail(problem('file-too-long', { file }, message));
  }
  const deep = DEEPEST_LINE.exec(source) ?? DEEPEST_RUN.exec(source);
  if (deep !== null) {
    const line = source.slice(0, deep.index).split('\n').length;
    const message = 'Quotations, lists or brackets are nested too deep here; 32 levels are read.';
    return fail(problem('nested-too-deep', { file, line, column: 1 }, message));
  }
  return succeed(
    fromMarkdown(source, {
      extensions: [gfmTable(), directive()],
      mdastExtensions: [gfmTableFromMarkdown(), directiveFromMarkdown()],
    }),
  );
}
