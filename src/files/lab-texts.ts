import type { Outcome, Problem } from '../problem/index.ts';
import { fail, problem, succeed } from '../problem/index.ts';
import {
  type Bibliography,
  digestOf,
  imagesIn,
  noSources,
  readBibliography,
  type TextFile,
} from '../publish/index.ts';
import { type LabFolder, readerOf } from './lab-folder.ts';

/** The author's own texts of a lab with what they draw on, and every file that was read. */
export interface LabTexts {
  readonly handout: TextFile | null;
  readonly guide: TextFile | null;
  readonly images: ReadonlyMap<string, Uint8Array>;
  readonly bibliography: Bibliography;
  /** The lab's words in the language of the documents. */
  readonly words: TextFile | null;
  readonly files: readonly LabFile[];
}

/** A file of a lab's folder as it lies there. */
export interface LabFile {
  readonly path: string;
  readonly bytes: Uint8Array;
  readonly sha256: string;
}

/**
 * Reads text/handout.md, text/guide.md, the pictures they show, the lab's words in another language and the list of
 * sources; none of them must be there. What is written in the language itself, as text/handout.de.md, goes first.
 *
 * @param language of the documents, as a tag
 */
export async function readLabTexts(folder: LabFolder, language: string): Promise<Outcome<LabTexts>> {
  const read = readerOf(folder);
  const files: LabFile[] = [];
  const problems: Problem[] = [];
  const bytesOf = async (file: string): Promise<Uint8Array | null> => {
    const bytes = await read(file);
    if (bytes.ok) {
      files.push({ path: file, bytes: bytes.value, sha256: digestOf(bytes.value) });
      return bytes.value;
    }
    if (!bytes.problems.every(({ code }) => code === 'no-such-file')) problems.push(...bytes.problems);
    return null;
  };
  const textOf = async (file: string): Promise<TextFile | null> => {
    const bytes = await bytesOf(file);
    return bytes === null ? null : { file, source: new TextDecoder().decode(bytes) };
  };
  const [main = ''] = language.toLowerCase().split('-');
  const inLanguage = async (name: string): Promise<TextFile | null> => {
    const own = await textOf(`text/${name}.${main}.md`);
    return own === null ? textOf(`text/${name}.md`) : { ...own, language: main };
  };
  const handout = await inLanguage('handout');
  const guide = await inLanguage('guide');
  const words = await textOf(`text/words.${main}.yaml`);
  const images = new Map<string, Uint8Array>();
  for (const text of [handout, guide]) {
    for (const path of text === null ? [] : imagesIn(text)) {
      const bytes = await bytesOf(path);
      if (bytes !== null) images.set(path, bytes);
    }
  }
  const list = (await textOf('references.bib')) ?? (await textOf('references.json'));
  const bibliography = list === null ? succeed(noSources) : await readBibliography(list.source, list.file);
  if (!bibliography.ok) problems.push(...bibliography.problems);
  if (problems.length > 0 || !bibliography.ok) return fail(...problems);
  return succeed({ handout, guide, images, bibliography: bibliography.value, words, files });
}

/** Files that say what a lab is and who may use it; they go along with it where they are there. */
const COMPANIONS: readonly string[] = ['README.md', 'LICENSE', 'LICENCE', 'LICENSE.md', 'LICENSE.txt'];

/** The lab file itself, and those beside it that say what the lab is; none of the latter must be there. */
export async function readCompanions(folder: LabFolder): Promise<readonly LabFile[]> {
  const read = readerOf(folder);
  const found: LabFile[] = [];
  for (const path of [folder.labFile, ...COMPANIONS]) {
    const bytes = await read(path);
    if (bytes.ok) found.push({ path, bytes: bytes.value, sha256: digestOf(bytes.value) });
  }
  return found;
}

/** The raw trial files, each once, as they were when they were reduced; fails where one has changed since. */
export async function readTrialFiles(
  folder: LabFolder,
  digests: ReadonlyMap<string, string>,
): Promise<Outcome<readonly LabFile[]>> {
  const read = readerOf(folder);
  const found: LabFile[] = [];
  for (const [path, sha256] of digests) {
    const bytes = await read(path);
    if (!bytes.ok) return bytes;
    if (digestOf(bytes.value) !== sha256) {
      const message = 'The file has changed while the documents were made.';
      return fail(problem('changed-meanwhile', { file: path }, message, 'Publish again.'));
    }
    found.push({ path, bytes: bytes.value, sha256 });
  }
  return succeed(found);
}
