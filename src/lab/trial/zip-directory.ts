import { fail, type Outcome, problem, succeed } from '../../problem/index.ts';

/** One entry of a zip archive, as its directory declares it (sizes in bytes). */
export interface ZipEntry {
  readonly name: string;
  readonly method: 'stored' | 'deflated';
  readonly packed: number;
  readonly unpacked: number;
  readonly headerAt: number;
}

/** Sum of the declared sizes that is still unpacked: a sheet of a million rows and three columns has 110 MB. */
const mostUnpacked = 160_000_000;
const mostEntries = 4096;

const endOfDirectory = 0x06054b50;
const directoryEntry = 0x02014b50;

/**
 * Reads the directory of a zip archive (PKWARE APPNOTE 6.3) without unpacking anything.
 *
 * Fails where the archive is cut off or locked with a password, and where it declares more than is safe to
 * unpack. An entry whose size is left open counts as too large, because a reader would have to trust it.
 */
export function readZipDirectory(bytes: Uint8Array, file: string): Outcome<ReadonlyMap<string, ZipEntry>> {
  const view = new DataView(bytes.buffer, bytes.byteOffset, bytes.byteLength);
  const end = findEnd(view);
  const cutOff = fail(
    problem(
      'broken-archive',
      { file },
      'The file is cut off or damaged: the directory at its end is missing. Copy it again from where it came.',
    ),
  );
  if (end < 0) return cutOff;
  const count = view.getUint16(end + 10, true);
  const tooLarge = fail(
    problem(
      'archive-too-large',
      { file },
      `The file declares that it unpacks to more than ${mostUnpacked / 1e6} MB, or leaves its size open. Save the sheet with the readings alone, or export it as .csv.`,
    ),
  );
  if (count > mostEntries) return tooLarge;
  const entries = new Map<string, ZipEntry>();
  const decoder = new TextDecoder();
  let at = view.getUint32(end + 16, true);
  let total = 0;
  for (let index = 0; index < count; index++) {
    if (at + 46 > bytes.length || view.getUint32(at, true) !== directoryEntry) return cutOff;
    const nameLength = view.getUint16(at + 28, true);
    const name = decoder.decode(bytes.subarray(at + 46, at + 46 + nameLength));
    if ((view.getUint16(at + 8, true) & 1) !== 0) {
      return fail(
        problem('locked-archive', { file }, 'The file is locked with a password. Save it without one.'),
      );
    }
    const method = view.getUint16(at + 10, true);
    const packed = view.getUint32(at + 20, true);
    const unpacked = view.getUint32(at + 24, true);
    total += unpacked;
    if (total > mostUnpacked || (unpacked === 0 && packed > 2)) return tooLarge;
    if (method === 0 || method === 8) {
      const headerAt = view.getUint32(at + 42, true);
      entries.set(name, { name, method: method === 0 ? 'stored' : 'deflated', packed, unpacked, headerAt });
    }
    at += 46 + nameLength + view.getUint16(at + 30, true) + view.getUint16(at + 32, true);
  }
  return succeed(entries);
}

function findEnd(view: DataView): number {
  const lowest = Math.max(0, view.byteLength - 65_557);
  for (let at = view.byteLength - 22; at >= lowest; at--) {
    if (view.getUint32(at, true) === endOfDirectory) return at;
  }
  return -1;
}

/**
 * Unpacks one entry, never to more than its declared size.
 *
 * @returns null where the packed bytes are damaged or lie about their size
 */
export async function unpackEntry(bytes: Uint8Array, entry: ZipEntry): Promise<Uint8Array | null> {
  const view = new DataView(bytes.buffer, bytes.byteOffset, bytes.byteLength);
  if (entry.headerAt + 30 > bytes.length) return null;
  const nameLength = view.getUint16(entry.headerAt + 26, true);
  const start = entry.headerAt + 30 + nameLength + view.getUint16(entry.headerAt + 28, true);
  if (start + entry.packed > bytes.length) return null;
  const packed = bytes.slice(start, start + entry.packed);
  if (entry.method === 'stored') return packed.length === entry.unpacked ? packed : null;
  const result = new Uint8Array(entry.unpacked);
  let length = 0;
  try {
    const reader = new Blob([packed])
      .stream()
      .pipeThrough(new DecompressionStream('deflate-raw'))
      .getReader();
    for (;;) {
      const { done, value } = await reader.read();
      if (done) break;
      if (!(value instanceof Uint8Array) || length + value.length > result.length) {
        await reader.cancel();
        return null;
      }
      result.set(value, length);
      length += value.length;
    }
  } catch {
    return null;
  }
  return length === result.length ? result : null;
}
