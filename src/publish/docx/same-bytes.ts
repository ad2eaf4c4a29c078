import { strFromU8, strToU8, unzipSync, type Zippable, zipSync } from 'fflate';

/** The first moment that a zip archive can name. */
const NO_TIME = new Date(1980, 0, 1);

/**
 * The same package with nothing in it that differs from run to run: no times, no drawn identifiers.
 *
 * The library that writes the package draws names for links at random; they become numbers in the order of their use, as do
 * those of bookmarks, which it counts through all documents.
 */
export function withoutChance(bytes: Uint8Array): Uint8Array {
  const files = unzipSync(bytes);
  const names = new Map<string, string>();
  const out: Zippable = {};
  for (const name of Object.keys(files).sort()) {
    const content = files[name];
    if (content === undefined) continue;
    const isText = name.endsWith('.xml') || name.endsWith('.rels');
    out[name] = [isText ? strToU8(settle(strFromU8(content), names)) : content, { mtime: NO_TIME, os: 0 }];
  }
  return zipSync(out, { level: 6 });
}

function settle(xml: string, names: Map<string, string>): string {
  const marks = new Map<string, string>();
  return xml
    .replace(/(<dcterms:(?:created|modified)[^>]*>)[^<]*/g, '$11980-01-01T00:00:00Z')
    .replace(/(<w:bookmark(?:Start|End)\b[^>]*w:id=")(\d+)"/g, (_all, before: string, drawn: string) => {
      const known = marks.get(drawn) ?? String(marks.size + 1);
      marks.set(drawn, known);
      return `${before}${known}"`;
    })
    .replace(/"rId([a-z0-9_-]{12,})"/gi, (_all, drawn: string) => {
      const known = names.get(drawn) ?? `rIdLink${names.size + 1}`;
      names.set(drawn, known);
      return `"${known}"`;
    });
}
