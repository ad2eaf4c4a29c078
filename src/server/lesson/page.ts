/** HTML that was made here; everything else is text and is escaped where it is put in. */
export interface Html {
  readonly html: string;
}

const ENTITIES: Readonly<Record<string, string>> = {
  '&': '&amp;',
  '<': '&lt;',
  '>': '&gt;',
  '"': '&quot;',
  "'": '&#39;',
};

type Part = string | number | Html | readonly Html[];

function put(part: Part): string {
  if (typeof part === 'number') return String(part);
  if (typeof part === 'string')
    return part.replace(/[\p{Cc}]+/gu, ' ').replace(/[&<>"']/g, (sign) => ENTITIES[sign] ?? sign);
  return 'html' in part ? part.html : part.map(({ html }) => html).join('');
}

/** Markup with values in it; texts are escaped, for content and for attributes in quotes. */
export function markup(texts: TemplateStringsArray, ...parts: readonly Part[]): Html {
  return {
    html: texts.map((text, index) => text + (index < parts.length ? put(parts[index] ?? '') : '')).join(''),
  };
}

/** Markup that the program made by other means, as a figure. */
export function trusted(html: string): Html {
  return { html };
}

export const nothing: Html = { html: '' };

/** Headers of one answer besides those of all. */
export type ExtraHeaders = Readonly<Record<string, string>>;

/** Every page of a lesson runs nothing but a script of our own, and sends its forms to us alone. */
const HEADERS = {
  'Content-Security-Policy':
    "default-src 'none'; img-src data:; style-src 'unsafe-inline'; script-src 'self'; connect-src 'self'; form-action 'self'; base-uri 'none'; frame-ancestors 'none'",
  'X-Content-Type-Options': 'nosniff',
  // Forms must say which page they come from.
  'Referrer-Policy': 'same-origin',
  'Cross-Origin-Opener-Policy': 'same-origin',
  'Cross-Origin-Resource-Policy': 'same-origin',
  'Cache-Control': 'no-store',
} as const;

export function answerPage(
  language: string,
  title: string,
  body: Html,
  status = 200,
  headers: ExtraHeaders = {},
): Response {
  const page = markup`<!doctype html>
<html lang="${language}">
<head>
<meta charset="utf-8">
<meta name="viewport" content="width=device-width, initial-scale=1">
<link rel="icon" href="data:,">
<title>${title}</title>
<style>
:root { color-scheme: light dark; --ink: #1a1a1a; --paper: #fff; --edge: #595959; --rule: #767676; --deed: #1f4e79; --on-deed: #fff; --wrong: #a4262c; }
@media (prefers-color-scheme: dark) { :root { --ink: #ece9e2; --paper: #14171c; --edge: #98a0aa; --rule: #5c636c; --deed: #8fc4ec; --on-deed: #14171c; --wrong: #ff9f86; } }
body { font: 1.05rem/1.5 system-ui, sans-serif; margin: 1.2rem auto; max-width: 56rem; padding: 0 1rem; color: var(--ink); background: var(--paper); overflow-wrap: break-word; }
a { color: var(--deed); }
label { display: block; margin: 0.8rem 0; font-weight: 600; }
input, select, button { font: inherit; color: inherit; background: var(--paper); min-height: 2.75rem; padding: 0.5rem; box-sizing: border-box; border: 1px solid var(--edge); border-radius: 4px; max-width: 100%; }
label input, label select { display: block; width: 100%; max-width: 24rem; }
button { background: var(--deed); color: var(--on-deed); border-color: var(--deed); padding: 0.5rem 1.2rem; }
button.plain { background: var(--paper); color: var(--ink); min-height: 2rem; padding: 0.2rem 0.6rem; white-space: nowrap; }
form.inline { display: inline; }
table { border-collapse: collapse; width: 100%; }
th, td { text-align: left; vertical-align: top; padding: 0.3rem 0.5rem; border-bottom: 1px solid var(--rule); }
.scroll { overflow-x: auto; }
.heard { position: absolute; width: 1px; height: 1px; overflow: hidden; clip-path: inset(50%); }
.problem { border-left: 4px solid var(--wrong); padding-left: 0.8rem; }
.code { font: 700 2rem ui-monospace, monospace; letter-spacing: 0.15em; }
svg { max-width: 100%; height: auto; }
</style>
</head>
<body>
${body}
</body>
</html>
`;
  return new Response(page.html, {
    status,
    headers: { ...HEADERS, 'Content-Type': 'text/html; charset=utf-8', ...headers },
  });
}

/** An answer that is no page, under the same rules. */
export function answerText(
  text: string | Uint8Array<ArrayBuffer>,
  type: string,
  headers: ExtraHeaders = {},
): Response {
  return new Response(text, { headers: { ...HEADERS, 'Content-Type': type, ...headers } });
}

/** Goes on to another page of ours once something was done, so that loading again does it only once. */
export function goTo(path: string, headers: ExtraHeaders = {}): Response {
  return new Response(null, { status: 303, headers: { ...HEADERS, Location: path, ...headers } });
}
