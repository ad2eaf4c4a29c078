import type { DataTable } from '../writing/index.ts';
import type { PackedLab } from './packed-lab.ts';
import { fieldsOf } from './trial-csv.ts';

/** A file as it lies in the pack. */
export interface PackedFile {
  /** Relative, with forward slashes. */
  readonly path: string;
  readonly bytes: Uint8Array;
  readonly sha256: string;
}

/** The table of one trial as it lies in the pack, beside the raw file that it was read from. */
export interface PackedTrial {
  readonly trial: DataTable;
  readonly file: PackedFile;
}

/**
 * The descriptor of the data after Data Package, version 2: every raw file of the lab with its size and digest, and
 * every trial as a table whose columns are named, with units.
 *
 * @param files  raw files, their paths as in the pack
 * @param trials tables, their paths as in the pack
 * Source: Data Package standard v2, https://datapackage.org/standard/data-package/, with Data Resource, Table Dialect
 * and Table Schema
 */
export function dataPackage(
  lab: PackedLab,
  files: readonly PackedFile[],
  trials: readonly PackedTrial[],
): string {
  const named = createNames();
  const raw = files.map((file) => ({
    name: named(file.path),
    path: file.path,
    ...mediaOf(file.path),
    ...weigh(file),
  }));
  const tables = trials.map(({ trial, file }) => ({
    name: named(file.path),
    type: 'table',
    path: file.path,
    title: trial.name,
    description: `The numbers of "${trial.name}" as they were read from ${trial.file}`,
    ...mediaOf(file.path),
    encoding: 'utf-8',
    ...weigh(file),
    dialect: { header: true, delimiter: ',', lineTerminator: '\r\n', quoteChar: '"', doubleQuote: true },
    schema: {
      fields: fieldsOf(trial).map(({ name, unit }) => ({
        name,
        type: 'number',
        ...(unit === '' ? {} : { unit }),
      })),
      missingValues: [''],
    },
  }));
  const { provenance, licence } = lab;
  const descriptor = {
    $schema: 'https://datapackage.org/profiles/2.0/datapackage.json',
    name: slug(lab.title),
    title: lab.title,
    ...(lab.about === '' ? {} : { description: lab.about }),
    ...(licence === '' ? {} : { licenses: [licenceOf(licence)] }),
    benchwright: {
      digest: provenance.digest,
      madeBy: provenance.madeBy,
      madeFrom: provenance.sources.map(({ file, sha256 }) => ({ file, sha256 })),
    },
    resources: [...raw, ...tables],
  };
  return `${JSON.stringify(descriptor, null, 2)}\n`;
}

/** An identifier of a licence; a licence in words stands in the file LICENCE of the pack. */
function licenceOf(licence: string) {
  return /^[-a-zA-Z0-9._]+$/.test(licence) ? { name: licence } : { path: 'LICENCE', title: licence };
}

function weigh({ bytes, sha256 }: PackedFile) {
  return { bytes: bytes.length, hash: `sha256:${sha256}` };
}

/** Names of resources: lower-case letters, digits, hyphens, dots; no two alike, as the standard asks. */
function createNames(): (path: string) => string {
  const taken = new Set<string>();
  return (path) => {
    const plain = path
      .normalize('NFKD')
      .toLowerCase()
      .replace(/[^a-z0-9._-]+/g, '-');
    let name = plain;
    for (let count = 2; taken.has(name); count++) name = `${plain}-${count}`;
    taken.add(name);
    return name;
  };
}

/** Lower-case letters, digits and hyphens. */
function slug(text: string): string {
  return (
    text
      .normalize('NFKD')
      .toLowerCase()
      .replace(/[^a-z0-9]+/g, '-')
      .replace(/^-+|-+$/g, '') || 'lab'
  );
}

function mediaOf(path: string): { readonly format: string; readonly mediatype: string } {
  const ending = /\.([a-z0-9]+)$/i.exec(path)?.[1]?.toLowerCase() ?? '';
  const known: Readonly<Record<string, string>> = {
    csv: 'text/csv',
    tsv: 'text/tab-separated-values',
    txt: 'text/plain',
    md: 'text/markdown',
    yaml: 'application/yaml',
    bib: 'application/x-bibtex',
    json: 'application/json',
    png: 'image/png',
    jpg: 'image/jpeg',
    jpeg: 'image/jpeg',
    xlsx: 'application/vnd.openxmlformats-officedocument.spreadsheetml.sheet',
    ods: 'application/vnd.oasis.opendocument.spreadsheet',
  };
  const mediatype = Object.hasOwn(known, ending) ? known[ending] : undefined;
  return { format: ending === '' ? 'bin' : ending, mediatype: mediatype ?? 'application/octet-stream' };
}
