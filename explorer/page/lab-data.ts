import type { SourceFile } from '../../app/compute/source.ts';
import type { PageLanguage } from '../words/index.ts';

/** What publishing put into the file; `writeExplorer` of src/publish has the same form. */
interface LabData {
  readonly text: string;
  readonly files: readonly { readonly path: string; readonly digest: string; readonly base64: string }[];
  readonly language: PageLanguage;
  readonly decimalMark: '.' | ',';
}

/** The lab that the file carries. */
export function readLabData(): Omit<LabData, 'files'> & { readonly files: readonly SourceFile[] } {
  const data: LabData = JSON.parse(document.getElementById('lab-data')?.textContent ?? '');
  const files = data.files.map(
    ({ path, digest, base64 }): SourceFile => ({ path, digest, from: { bytes: bytesOf(base64) } }),
  );
  return { ...data, files };
}

function bytesOf(base64: string): Uint8Array<ArrayBuffer> {
  return Uint8Array.from(atob(base64), (character) => character.charCodeAt(0));
}
