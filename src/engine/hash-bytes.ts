const prime = 0x100000001b3n;
const offset = 0xcbf29ce484222325n;

/**
 * The 64-bit FNV-1a hash of bytes, as 16 hexadecimal digits: for caches, not against forgery.
 *
 * Source: G. Fowler, L. C. Noll, K.-P. Vo, D. Eastlake, The FNV Non-Cryptographic Hash Algorithm, RFC 9923
 */
export function hashBytes(bytes: Uint8Array): string {
  let hash = offset;
  for (const byte of bytes) hash = BigInt.asUintN(64, (hash ^ BigInt(byte)) * prime);
  return hash.toString(16).padStart(16, '0');
}
