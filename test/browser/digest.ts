import { sha256 } from '@noble/hashes/sha2.js';
import { bytesToHex } from '@noble/hashes/utils.js';

/** SHA-256 of all that a value holds, number by number to the last bit; functions apart. */
export function digestOf(value: unknown): string {
  const hash = sha256.create();
  const bits = new DataView(new ArrayBuffer(8));
  const words = new TextEncoder();
  const add = (part: unknown): void => {
    if (typeof part === 'number') {
      bits.setFloat64(0, Number.isNaN(part) ? Number.NaN : part);
      hash.update(new Uint8Array(bits.buffer));
    } else if (part instanceof Float64Array || part instanceof Int32Array || part instanceof Uint8Array) {
      part.forEach(add);
    } else if (part instanceof Map) {
      for (const entry of part) add(entry);
    } else if (Array.isArray(part)) {
      hash.update(words.encode(`[${part.length}`));
      part.forEach(add);
    } else if (typeof part === 'object' && part !== null) {
      for (const [key, inner] of Object.entries(part)) {
        if (typeof inner === 'function') continue;
        hash.update(words.encode(key));
        add(inner);
      }
    } else {
      hash.update(words.encode(String(part)));
    }
  };
  add(value);
  return bytesToHex(hash.digest());
}
