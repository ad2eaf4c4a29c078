import { unzipSync, type Zippable, zipSync } from 'fflate';

/** The first moment that a zip archive can name. */
const NO_TIME = new Date(1980, 0, 1);

/** The same package with no time in its archive. */
export function evenBytes(bytes: Uint8Array): Uint8Array {
  const files = unzipSync(bytes);
  const out: Zippable = {};
  for (const name of Object.keys(files))
    out[name] = [files[name] ?? new Uint8Array(), { mtime: NO_TIME, os: 0 }];
  return zipSync(out, { level: 6 });
}
