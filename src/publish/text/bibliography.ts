import * as z from 'zod';
import { fail, type Outcome, type Place, type Problem, problem, succeed } from '../../problem/index.ts';

const name = z.looseObject({
  family: z.string().optional(),
  given: z.string().optional(),
  literal: z.string().optional(),
});

const text = z.union([z.string(), z.number()]).transform(String);

/** What is read of a source in CSL-JSON; other fields are passed over. */
const item = z.looseObject({
  id: text,
  type: z.string(),
  title: z.string().optional(),
  author: z.array(name).optional(),
  editor: z.array(name).optional(),
  'container-title': z.string().optional(),
  publisher: z.string().optional(),
  edition: text.optional(),
  volume: text.optional(),
  issue: text.optional(),
  page: text.optional(),
  number: text.optional(),
  note: z.string().optional(),
  DOI: z.string().optional(),
  URL: z.string().optional(),
  issued: z.looseObject({ 'date-parts': z.array(z.array(text)).optional() }).optional(),
});

/** One published source. */
export type Source = z.infer<typeof item>;

/** The sources of a lab by their keys, in the order of the file. */
export interface Bibliography {
  readonly entries: ReadonlyMap<string, Source>;
}

export const noSources: Bibliography = { entries: new Map() };

/** Longer files of sources are no list of a lab. */
const LONGEST_FILE = 1_000_000;

/**
 * Reads the sources of a lab: BibTeX (`references.bib`) or CSL-JSON (`references.json`).
 *
 * The reader of BibTeX is loaded only when one is read. Nothing is looked up anywhere.
 *
 * @param source the file's text
 * @param file   its name, whose ending says the form
 * @returns the sources, or what is wrong with the file, at its place
 * Source of the forms: citation-style-language schema 1.0 (csl-data.json); Patashnik, BibTeXing (1988)
 */
export async function readBibliography(source: string, file: string): Promise<Outcome<Bibliography>> {
  if (source.length > LONGEST_FILE) {
    const message = `The list of sources has ${source.length} characters; it has at most ${LONGEST_FILE}.`;
    return fail(problem('file-too-long', { file }, message));
  }
  const data = file.endsWith('.json') ? readJson(source, file) : await readBibTeX(source, file);
  if (!data.ok) return data;
  const items = z.array(z.unknown()).safeParse(data.value);
  if (!items.success)
    return fail(problem('wrong-form', { file }, 'CSL-JSON is a list of sources, [ { … }, … ].'));
  const entries = new Map<string, Source>();
  const problems: Problem[] = [];
  items.data.forEach((written, index) => {
    const read = item.safeParse(written);
    if (!read.success) {
      const [issue] = read.error.issues;
      const message = `Source ${index + 1} cannot be read: ${issue?.path.join(' → ') ?? ''}, ${issue?.message ?? ''}.`;
      problems.push(problem('wrong-form', { file }, message));
    } else if (entries.has(read.data.id)) {
      const message = `The source "${read.data.id}" stands there twice; a key can stand only once.`;
      problems.push(problem('key-twice', placeOfKey(source, read.data.id, file), message));
    } else entries.set(read.data.id, read.data);
  });
  if (entries.size === 0 && problems.length === 0 && source.trim() !== '' && !file.endsWith('.json')) {
    const message = 'The file holds no source: BibTeX reads only what begins with @, such as @book{key, …}.';
    return fail(problem('no-sources', { file }, message));
  }
  return problems.length > 0 ? fail(...problems) : succeed({ entries });
}

function readJson(source: string, file: string): Outcome<unknown> {
  try {
    return succeed(JSON.parse(source));
  } catch (error) {
    const reason = error instanceof Error ? error.message : 'it cannot be read';
    return fail(problem('not-json', { file }, `This is not JSON: ${reason}.`));
  }
}

async function readBibTeX(source: string, file: string): Promise<Outcome<unknown>> {
  if (source.trim() === '') return succeed([]);
  const { plugins } = await import('@citation-js/core');
  await import('@citation-js/plugin-bibtex');
  try {
    // The form is forced, so that a text which looks like an address is never fetched.
    return succeed(plugins.input.chain(source, { forceType: '@bibtex/text', generateGraph: false }));
  } catch (error) {
    const message = error instanceof Error ? error.message : '';
    const [, line, column] = /line (\d+) col (\d+)/u.exec(message) ?? [];
    const place: Place =
      line === undefined || column === undefined
        ? { file }
        : { file, line: Number(line), column: Number(column) };
    const reason = message.split('\n')[0]?.replace(/:$/u, '') ?? '';
    return fail(
      problem('not-bibtex', place, `This is not BibTeX: ${reason === '' ? 'it cannot be read' : reason}.`),
    );
  }
}

function placeOfKey(source: string, key: string, file: string): Place {
  const at = source.lastIndexOf(key);
  const before = source.slice(0, Math.max(at, 0));
  return { file, line: before.split('\n').length, column: before.length - before.lastIndexOf('\n') };
}
