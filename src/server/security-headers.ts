/** What the pages of the app may do: nothing that is not theirs. */
const APP_POLICY = [
  "default-src 'none'",
  // Formulas become WebAssembly; no text is ever evaluated.
  "script-src 'self' 'wasm-unsafe-eval'",
  "style-src 'self' 'unsafe-inline'",
  "img-src 'self' blob: data:",
  // Previews of documents bring their fonts along.
  "font-src 'self' data:",
  "connect-src 'self'",
  "worker-src 'self'",
  "frame-src 'self' blob:",
  "base-uri 'none'",
  "form-action 'none'",
  "frame-ancestors 'none'",
].join('; ');

/** A file of a lab runs nothing and reaches nothing, wherever it is opened. */
const FILE_POLICY = "sandbox; default-src 'none'; frame-ancestors 'none'";

/** A published page shows its own styles, pictures and fonts, and runs nothing. */
const DOCUMENT_POLICY =
  "sandbox; default-src 'none'; style-src 'unsafe-inline'; img-src data:; font-src data:; frame-ancestors 'self'";

/** A preview runs nothing either; the app may look into it, to keep the place where a person reads. */
const PREVIEW_POLICY = DOCUMENT_POLICY.replace('sandbox;', 'sandbox allow-same-origin;');

/** An explorer runs one program, told by its digest, in an origin of its own; its workers are that program too. */
const explorerPolicy = (digest: string): string =>
  `sandbox allow-scripts; default-src 'none'; script-src ${digest} 'wasm-unsafe-eval'; worker-src blob:; style-src 'unsafe-inline'; img-src data:; frame-ancestors 'self'`;

/** On every answer: it is what it says it is, nobody else may read it, and nobody is told where it came from. */
const ALWAYS = {
  'X-Content-Type-Options': 'nosniff',
  'Referrer-Policy': 'no-referrer',
  'Cross-Origin-Opener-Policy': 'same-origin',
  'Cross-Origin-Resource-Policy': 'same-origin',
} as const;

/** Headers of the pages of the app, of answers of data, of files of a lab, of published documents, previews and explorers. */
export const SECURITY_HEADERS = {
  app: { ...ALWAYS, 'Content-Security-Policy': APP_POLICY },
  data: { ...ALWAYS, 'Content-Security-Policy': FILE_POLICY, 'Cache-Control': 'no-store' },
  labFile: { ...ALWAYS, 'Content-Security-Policy': FILE_POLICY, 'Cache-Control': 'no-cache' },
  document: { ...ALWAYS, 'Content-Security-Policy': DOCUMENT_POLICY, 'Cache-Control': 'no-cache' },
  preview: { ...ALWAYS, 'Content-Security-Policy': PREVIEW_POLICY, 'Cache-Control': 'no-cache' },
  explorer: (digest: string) => ({
    ...ALWAYS,
    'Content-Security-Policy': explorerPolicy(digest),
    'Cache-Control': 'no-cache',
  }),
} as const;
