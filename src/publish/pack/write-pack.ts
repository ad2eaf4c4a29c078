import { strToU8, type Zippable, zipSync } from 'fflate';
import type { LabDocumentTree } from '../document/index.ts';
import type { DataTable } from '../writing/index.ts';
import { citationFile } from './citation-file.ts';
import { dataPackage, type PackedFile } from './data-package.ts';
import { licenceText } from './licence-text.ts';

/** The first moment that a zip archive can name. */
const NO_TIME = new Date(1980, 0, 1);

export interface PackContents {
  /** Any document of the lab: its title, licence and provenance are those of the pack. */
  readonly tree: LabDocumentTree;
  /** Documents by the name of their file. */
  readonly documents: ReadonlyMap<string, Uint8Array | string>;
  /** Files of the lab's folder: the lab file, texts, references, trials. */
  readonly files: readonly PackedFile[];
  readonly trials: readonly DataTable[];
}

/**
 * Everything of a lab in one archive: documents, the lab's own folder, a descriptor of the data, licence, citation.
 *
 * Same contents, same bytes: sorted, and without times.
 *
 * @throws RangeError for a path that leaves the folder
 */
export function writePack({ tree, documents, files, trials }: PackContents): Uint8Array {
  const entries = new Map<string, Uint8Array>([
    ['LICENCE', strToU8(licenceText(tree))],
    ['CITATION.cff', strToU8(citationFile(tree))],
    ['lab/datapackage.json', strToU8(dataPackage(tree, files, trials))],
  ]);
  for (const [name, content] of documents)
    entries.set(`documents/${safePath(name)}`, typeof content === 'string' ? strToU8(content) : content);
  for (const { path, bytes } of files) entries.set(`lab/${safePath(path)}`, bytes);
  const out: Zippable = {};
  for (const name of [...entries.keys()].sort())
    out[name] = [entries.get(name) ?? new Uint8Array(), { mtime: NO_TIME, os: 0 }];
  return zipSync(out, { level: 6 });
}

function safePath(path: string): string {
  const parts = path.split('/');
  const isSafe =
    path !== '' &&
    !/[\\:\p{Cc}]/u.test(path) &&
    parts.every((part) => part !== '' && part !== '.' && part !== '..');
  if (!isSafe) throw new RangeError(`A file of a pack must stay in its folder: ${JSON.stringify(path)}.`);
  return path;
}
