import type { Directives } from 'mdast-util-directive';
import { type Reading, tellUnknown } from './reading.ts';

/**
 * The attributes of a directive, each one of those that it knows.
 *
 * @returns the attributes that are there, by name; null where one is not known, which was told
 */
export function attributesOf<Name extends string>(
  node: Directives,
  known: readonly Name[],
  reading: Reading,
): Readonly<Partial<Record<Name, string>>> | null {
  const found: Partial<Record<Name, string>> = {};
  let isGood = true;
  for (const [name, value] of Object.entries(node.attributes ?? {})) {
    const match = known.find((candidate) => candidate === name);
    if (match === undefined) {
      const message =
        known.length === 0
          ? `"${node.name}" takes no attributes; "${name}" stands there.`
          : `"${name}" is no attribute of "${node.name}".`;
      tellUnknown(reading, node, 'unknown-attribute', message, name, known);
      isGood = false;
    } else found[match] = value ?? '';
  }
  return isGood ? found : null;
}
