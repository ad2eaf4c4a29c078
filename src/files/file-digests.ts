import { createHash } from 'node:crypto';
import type { FileHandle } from 'node:fs/promises';

/** SHA-256 of files, hexadecimal, each read again only where size, time or place of it have changed. */
export interface FileDigests {
  /** @param path without links; @param handle opened for reading */
  of(path: string, handle: FileHandle): Promise<string>;
}

/** Files whose digest is remembered; the oldest is forgotten first. */
const MOST_REMEMBERED = 20_000;

export function createFileDigests(): FileDigests {
  const remembered = new Map<string, { readonly state: string; readonly digest: string }>();
  return {
    async of(path, handle) {
      const before = await stateOf(handle);
      const known = remembered.get(path);
      if (known?.state === before) return known.digest;
      const hash = createHash('sha256');
      for await (const chunk of handle.createReadStream({ start: 0, autoClose: false })) hash.update(chunk);
      const digest = hash.digest('hex');
      remembered.delete(path);
      // What was written to while it was read has no digest to remember.
      if ((await stateOf(handle)) === before) remembered.set(path, { state: before, digest });
      const [oldest] = remembered.keys();
      if (remembered.size > MOST_REMEMBERED && oldest !== undefined) remembered.delete(oldest);
      return digest;
    },
  };
}

async function stateOf(handle: FileHandle): Promise<string> {
  const { size, mtimeNs, ctimeNs, ino, dev } = await handle.stat({ bigint: true });
  return [size, mtimeNs, ctimeNs, ino, dev].join(' ');
}

/** SHA-256 of bytes, hexadecimal. */
export function digestOfBytes(bytes: Uint8Array): string {
  return createHash('sha256').update(bytes).digest('hex');
}
