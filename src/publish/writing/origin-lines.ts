import type { LabDocumentTree } from '../document/index.ts';
import { wordsOf } from './words.ts';

/** What every document says at its end: licence, program, digest, and the files that it was made from. */
export function originLines(tree: LabDocumentTree): readonly string[] {
  const words = wordsOf(tree.settings.language);
  const { provenance, licence } = tree;
  return [
    ...(licence === '' ? [] : [`${words.licence}: ${licence}`]),
    `${words.madeBy}: ${provenance.madeBy}`,
    `${words.digest}: ${provenance.digest}`,
    ...provenance.sources.map(({ file, sha256 }) => `${words.madeFrom}: ${file} (SHA-256 ${sha256})`),
  ];
}

/** Enough of a digest to compare by eye; the whole stands in the file's own data. */
const SHORT = 12;

/** The same in one short paragraph, for the end of a page. */
export function originSummary(tree: LabDocumentTree): string {
  const words = wordsOf(tree.settings.language);
  const { provenance, licence } = tree;
  const sources = provenance.sources.map(({ file, sha256 }) => `${file} (${sha256.slice(0, SHORT)})`);
  return [
    ...(licence === '' ? [] : [`${words.licence}: ${licence}`]),
    `${words.madeBy}: ${provenance.madeBy}`,
    `${words.digest}: ${provenance.digest}`,
    ...(sources.length === 0 ? [] : [`${words.madeFrom} (SHA-256): ${sources.join(', ')}`]),
  ].join(' \u00b7 ');
}
