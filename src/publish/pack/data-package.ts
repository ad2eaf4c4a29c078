import type { LabDocumentTree } from '../document/index.ts';
import type { DataTable } from '../writing/index.ts';

/** A raw file of the lab as it goes into the pack. */
export interface PackedFile {
  /** Relative to the lab's folder, with forward slashes. */
  readonly path: string;
  readonly bytes: Uint8Array;
  readonly sha256: string;
}

/**
 * The descriptor of the raw data after Data Package, version 2: what each file is, its size and digest, and the
 * columns that the lab reads from it.
 *
 * Source: Data Package standard v2, https://datapackage.org/standard/data-package/
 */
export function dataPackage(
  tree: LabDocumentTree,
  files: readonly PackedFile[],
  trials: readonly DataTable[],
): string {
  const resources = files.map(({ path, bytes, sha256 }) => {
    const read = trials.filter(({ file }) => file === path);
    const headings = [...new Set(read.flatMap(({ columns }) => columns.map(({ heading }) => heading)))];
    return {
      name: path.toLowerCase().replace(/[^a-z0-9._-]+/g, '-'),
      path,
      ...mediaOf(path),
      bytes: bytes.length,
      hash: `sha256:${sha256}`,
      ...(read.length === 0 ? {} : { description: read.map(({ name }) => name).join(', ') }),
      ...(headings.length === 0 ? {} : { benchwright: { columns: headings } }),
    };
  });
  const descriptor = {
    $schema: 'https://datapackage.org/profiles/2.0/datapackage.json',
    name: slug(tree.title),
    title: tree.title,
    description: tree.subtitle,
    ...(tree.licence === '' ? {} : { licenses: [{ name: tree.licence }] }),
    sources: tree.provenance.sources.map(({ file, sha256 }) => ({
      title: `${file} (SHA-256 ${sha256})`,
      path: file,
    })),
    benchwright: { digest: tree.provenance.digest, madeBy: tree.provenance.madeBy },
    resources,
  };
  return `${JSON.stringify(descriptor, null, 2)}\n`;
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
    xlsx: 'application/vnd.openxmlformats-officedocument.spreadsheetml.sheet',
    ods: 'application/vnd.oasis.opendocument.spreadsheet',
  };
  return { format: ending === '' ? 'bin' : ending, mediatype: known[ending] ?? 'application/octet-stream' };
}
