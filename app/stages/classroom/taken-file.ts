import type { SourceFile } from '../../compute/source.ts';

/** A file that somebody chose on a screen: it goes to the computation, and nowhere else. */
export interface TakenFile {
  readonly file: SourceFile;
  /** As the person knows it. */
  readonly name: string;
}

let count = 0;

/** Reads a chosen file; its digest is a number of its own, for the same name may come with other content. */
export async function takeFile(chosen: File): Promise<TakenFile> {
  count += 1;
  const bytes = new Uint8Array(await chosen.arrayBuffer());
  const from = { bytes };
  return { file: { path: chosen.name, digest: `chosen ${count}`, from }, name: chosen.name };
}
