/** One entry of an archive made for a test; `declared` is the size that its directory claims. */
export interface MadeEntry {
  readonly name: string;
  readonly data: Uint8Array | string;
  readonly declared?: number;
  readonly flags?: number;
}

/** A zip archive of stored entries (PKWARE APPNOTE 6.3), truthful or not. */
export function makeArchive(entries: readonly MadeEntry[]): Uint8Array {
  const parts: Uint8Array[] = [];
  const directory: Uint8Array[] = [];
  let offset = 0;
  for (const entry of entries) {
    const name = new TextEncoder().encode(entry.name);
    const data = typeof entry.data === 'string' ? new TextEncoder().encode(entry.data) : entry.data;
    const size = entry.declared ?? data.length;
    const flags = entry.flags ?? 0;
    const common = [
      [10, 2],
      [flags, 2],
      [0, 2],
      [0, 4],
      [0, 4],
      [data.length, 4],
      [size, 4],
      [name.length, 2],
      [0, 2],
    ] as const;
    parts.push(pack([[0x04034b50, 4], ...common]), name, data);
    directory.push(
      pack([[0x02014b50, 4], [10, 2], ...common, [0, 2], [0, 2], [0, 2], [0, 4], [offset, 4]]),
      name,
    );
    offset += 30 + name.length + data.length;
  }
  const size = directory.reduce((sum, part) => sum + part.length, 0);
  const count = entries.length;
  const end = pack([
    [0x06054b50, 4],
    [0, 4],
    [count, 2],
    [count, 2],
    [size, 4],
    [offset, 4],
    [0, 2],
  ]);
  return join([...parts, ...directory, end]);
}

function pack(fields: readonly (readonly [number, 2 | 4])[]): Uint8Array {
  const bytes = new Uint8Array(fields.reduce((sum, [, width]) => sum + width, 0));
  const view = new DataView(bytes.buffer);
  let at = 0;
  for (const [value, width] of fields) {
    if (width === 2) view.setUint16(at, value, true);
    else view.setUint32(at, value, true);
    at += width;
  }
  return bytes;
}

function join(parts: readonly Uint8Array[]): Uint8Array {
  const bytes = new Uint8Array(parts.reduce((sum, part) => sum + part.length, 0));
  let at = 0;
  for (const part of parts) {
    bytes.set(part, at);
    at += part.length;
  }
  return bytes;
}

/** An OpenDocument spreadsheet with these tables as its content. */
export function makeOpenDocument(tables: string): Uint8Array {
  const namespaces = ['office', 'table', 'text', 'calcext']
    .map((name) => `xmlns:${name}="urn:x:${name}"`)
    .join(' ');
  const body = `<office:body><office:spreadsheet>${tables}</office:spreadsheet></office:body>`;
  return makeArchive([
    { name: 'mimetype', data: 'application/vnd.oasis.opendocument.spreadsheet' },
    {
      name: 'content.xml',
      data: `<?xml version="1.0"?>\n<office:document-content ${namespaces}>${body}</office:document-content>`,
    },
  ]);
}
