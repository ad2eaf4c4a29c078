import { labJsonSchema } from '../../src/lab/index.ts';
import { isRecord } from '../bench/plain.ts';

let schema: unknown;

/**
 * What the schema of the lab file says of a key: the one text for editors, manual and screens.
 *
 * @param path keys from the top; any name where the file has names of the author's own
 * @returns '' where the schema says nothing
 */
export function describeKey(path: readonly string[]): string {
  schema ??= labJsonSchema();
  let node: unknown = schema;
  for (const key of path) node = below(node, key);
  return isRecord(node) && typeof node.description === 'string' ? node.description : '';
}

function below(node: unknown, key: string): unknown {
  if (!isRecord(node)) return undefined;
  const { properties, additionalProperties, items, anyOf } = node;
  if (isRecord(properties) && key in properties) return properties[key];
  if (isRecord(items)) return below(items, key);
  if (isRecord(additionalProperties)) return additionalProperties;
  if (Array.isArray(anyOf)) {
    for (const one of anyOf) {
      const found = below(one, key);
      if (found !== undefined) return found;
    }
  }
  return undefined;
}
