import { sha256 } from '@noble/hashes/sha2.js';
import { bytesToHex, utf8ToBytes } from '@noble/hashes/utils.js';
import type { PrintSettings, Provenance } from './tree.ts';

/**
 * What a document is made from: every file by its digest, and one digest over all of them and the settings.
 *
 * The order of the files does not count.
 *
 * @param sources name and SHA-256 (hexadecimal) of the lab file, the text files, the references and each trial file
 * @param madeBy  'Benchwright 0.1.0'
 */
export function makeProvenance(
  sources: Provenance['sources'],
  settings: PrintSettings,
  madeBy: string,
): Provenance {
  const byFile = new Map(sources.map(({ file, sha256: digest }) => [file, digest]));
  const sorted = [...byFile]
    .sort(([a], [b]) => (a < b ? -1 : 1))
    .map(([file, digest]) => ({ file, sha256: digest }));
  const { language, decimalMark, paper, notation } = settings;
  const whole = JSON.stringify([sorted, [language, decimalMark, paper, notation], madeBy]);
  return { sources: sorted, digest: bytesToHex(sha256(utf8ToBytes(whole))), madeBy };
}

/** SHA-256 of a text in UTF-8 or of bytes, hexadecimal. */
export function digestOf(content: string | Uint8Array): string {
  return bytesToHex(sha256(typeof content === 'string' ? utf8ToBytes(content) : content));
}
