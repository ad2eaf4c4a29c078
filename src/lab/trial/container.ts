/** What kind of file the first bytes show. */
export type Container = 'text' | 'zip' | 'old office document' | 'gzip' | 'pdf' | 'picture' | 'empty';

const signatures: readonly (readonly [Container, readonly number[]])[] = [
  ['zip', [0x50, 0x4b, 0x03, 0x04]],
  ['zip', [0x50, 0x4b, 0x05, 0x06]],
  ['old office document', [0xd0, 0xcf, 0x11, 0xe0]],
  ['gzip', [0x1f, 0x8b]],
  ['pdf', [0x25, 0x50, 0x44, 0x46]],
  ['picture', [0x89, 0x50, 0x4e, 0x47]],
  ['picture', [0xff, 0xd8, 0xff]],
];

/** Says from its first bytes what a file is; whatever bears no known signature counts as text. */
export function containerOf(bytes: Uint8Array): Container {
  if (bytes.length === 0) return 'empty';
  for (const [container, signature] of signatures) {
    if (signature.every((byte, index) => bytes[index] === byte)) return container;
  }
  return 'text';
}
