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
