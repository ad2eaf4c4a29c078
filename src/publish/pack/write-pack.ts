import { strToU8, type Zippable, zipSync } from 'fflate';
import { digestOf } from '../document/index.ts';
import type { DataTable } from '../writing/index.ts';
import { citationFile } from './citation-file.ts';
import { dataPackage, type PackedFile, type PackedTrial } from './data-package.ts';
import { licenceText } from './licence-text.ts';
import type { PackedLab } from './packed-lab.ts';
import { trialCsv } from './trial-csv.ts';

/** The first moment that a zip archive can name. */
const NO_TIME = new Date(1980, 0, 1);

/** Formats that are compressed already: trying again takes time and saves nothing. */
const COMPRESSED = /\.(?:docx|xlsx|ods|pdf|png|jpe?g|zip)$/i;

export interface PackContents {
  readonly lab: PackedLab;
  /** Documents by the name of their file. */
  readonly documents: ReadonlyMap<string, Uint8Array | string>;
  /** Files of the lab's folder, their paths in it: the lab file, texts, references, trials. */
  readonly files: readonly PackedFile[];
  readonly trials: readonly DataTable[];
}

/**
 * Everything of a lab in one archive: `documents/`, the lab's own folder as `lab/`, each trial as a table in `data/`,
 * a descriptor of the data, licence, citation.
 *
 * Same contents, same bytes: sorted, and without times.
 *
 * @throws RangeError for a path that leaves the folder
 */
export function writePack({ lab, documents, files, trials }: PackContents): Uint8Array {
  const raw = files.map((file) => ({ ...file, path: `lab/${safePath(file.path)}` }));
  const tables = trials.map((trial, index) => packTrial(trial, index));
  const entries = new Map<string, Uint8Array>([
    ['LICENCE', strToU8(licenceText(lab))],
    ['CITATION.cff', strToU8(citationFile(lab))],
    ['datapackage.json', strToU8(dataPackage(lab, raw, tables))],
    ...raw.map(({ path, bytes }) => [path, bytes] as const),
    ...tables.map(({ file }) => [file.path, file.bytes] as const),
  ]);
  for (const [name, content] of documents)
    entries.set(`documents/${safePath(name)}`, typeof content === 'string' ? strToU8(content) : content);
  const out: Zippable = {};
  for (const [name, bytes] of [...entries].sort(([a], [b]) => (a < b ? -1 : 1)))
    out[name] = [bytes, { mtime: NO_TIME, os: 0, level: COMPRESSED.test(name) ? 0 : 6 }];
  return zipSync(out);
}

/** 'data/02-short-1.csv': numbered in the order of the lab, since names may be of any script. */
function packTrial(trial: DataTable, index: number): PackedTrial {
  const name = trial.name
    .normalize('NFKD')
    .toLowerCase()
    .replace(/[^a-z0-9]+/g, '-')
    .replace(/^-+|-+$/g, '');
  const number = String(index + 1).padStart(2, '0');
  const bytes = strToU8(trialCsv(trial));
  const path = `data/${name === '' ? number : `${number}-${name}`}.csv`;
  return { trial, file: { path, bytes, sha256: digestOf(bytes) } };
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
