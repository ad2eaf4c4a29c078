import type { Outcome, Problem } from '../../problem/index.ts';
import { fail, succeed } from '../../problem/index.ts';
import {
  type Bibliography,
  digestOf,
  imagesIn,
  noSources,
  readBibliography,
  type TextFile,
} from '../../publish/index.ts';
import { type LabFolder, readerOf } from './lab-folder.ts';

/** The author's own texts of a lab with what they draw on, and the digest of every file that was read. */
export interface LabTexts {
  readonly handout: TextFile | null;
  readonly guide: TextFile | null;
  readonly images: ReadonlyMap<string, Uint8Array>;
  readonly bibliography: Bibliography;
  readonly digests: ReadonlyMap<string, string>;
}

/** Reads text/handout.md, text/guide.md, the pictures they show and the list of sources; none of them must be there. */
export async function readLabTexts(folder: LabFolder): Promise<Outcome<LabTexts>> {
  const read = readerOf(folder);
  const digests = new Map<string, string>();
  const problems: Problem[] = [];
  const bytesOf = async (file: string): Promise<Uint8Array | null> => {
    const bytes = await read(file);
    if (bytes.ok) {
      digests.set(file, digestOf(bytes.value));
      return bytes.value;
    }
    if (!bytes.problems.every(({ code }) => code === 'no-such-file')) problems.push(...bytes.problems);
    return null;
  };
  const textOf = async (file: string): Promise<TextFile | null> => {
    const bytes = await bytesOf(file);
    return bytes === null ? null : { file, source: new TextDecoder().decode(bytes) };
  };
  const handout = await textOf('text/handout.md');
  const guide = await textOf('text/guide.md');
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
  return succeed({ handout, guide, images, bibliography: bibliography.value, digests });
}
