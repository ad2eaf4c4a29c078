/** Pictures that a text may show. */
const PICTURES: ReadonlyMap<string, string> = new Map([
  ['png', 'image/png'],
  ['jpg', 'image/jpeg'],
  ['jpeg', 'image/jpeg'],
  ['gif', 'image/gif'],
  ['webp', 'image/webp'],
  ['svg', 'image/svg+xml'],
]);

const APP: ReadonlyMap<string, string> = new Map([
  ['html', 'text/html; charset=utf-8'],
  ['js', 'text/javascript; charset=utf-8'],
  ['mjs', 'text/javascript; charset=utf-8'],
  ['css', 'text/css; charset=utf-8'],
  ['json', 'application/json; charset=utf-8'],
  ['wasm', 'application/wasm'],
  ['woff2', 'font/woff2'],
  ['ttf', 'font/ttf'],
  ['ico', 'image/x-icon'],
  ...PICTURES,
]);

const PUBLISHED: ReadonlyMap<string, string> = new Map([
  ['html', 'text/html; charset=utf-8'],
  ['pdf', 'application/pdf'],
  ['docx', 'application/vnd.openxmlformats-officedocument.wordprocessingml.document'],
  ['xlsx', 'application/vnd.openxmlformats-officedocument.spreadsheetml.sheet'],
  ['zip', 'application/zip'],
  ['json', 'application/json; charset=utf-8'],
  ['py', 'text/plain; charset=utf-8'],
]);

const BYTES = 'application/octet-stream';

/** A lab's own file: text as text and never as a page, pictures as pictures, everything else as bytes. */
export function typeOfLabFile(path: string): string {
  const ending = endingOf(path);
  if (/^(yaml|yml|md|bib|csv|tsv|txt|dat|json)$/.test(ending)) return 'text/plain; charset=utf-8';
  return PICTURES.get(ending) ?? BYTES;
}

/** A file of the app, which came with the program. */
export function typeOfAppFile(path: string): string {
  return APP.get(endingOf(path)) ?? BYTES;
}

/** A published document. */
export function typeOfPublished(path: string): string {
  return PUBLISHED.get(endingOf(path)) ?? BYTES;
}

function endingOf(path: string): string {
  return /\.([^./]+)$/.exec(path)?.[1]?.toLowerCase() ?? '';
}
