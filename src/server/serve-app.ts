import { realpath } from 'node:fs/promises';
import { partsOfName, readInside } from '../files/index.ts';
import { answerRefusal } from './answers.ts';
import { typeOfAppFile } from './content-type.ts';
import { SECURITY_HEADERS } from './security-headers.ts';

/** A file of the app is never larger. */
const MOST_BYTES = 64 * 2 ** 20;

/**
 * A file of the app; its page for every address that names no file, since the app itself knows its screens.
 *
 * @param appFolder where the built app lies
 * @param path      of the request, decoded, without the leading slash
 */
export async function serveApp(appFolder: string, path: string): Promise<Response> {
  const folder = await realpath(appFolder).catch(() => null);
  const isFile = path.includes('.');
  if (folder === null) return isFile ? missing(path) : notBuilt();
  const name = isFile ? path : 'index.html';
  const bytes = partsOfName(name).ok ? await readInside(folder, name, MOST_BYTES) : null;
  if (bytes === null || !bytes.ok) return isFile ? missing(path) : notBuilt();
  return new Response(new Uint8Array(bytes.value), {
    headers: {
      ...SECURITY_HEADERS.app,
      'Content-Type': typeOfAppFile(name),
      // Names in assets/ change with what is in the file.
      'Cache-Control': name.startsWith('assets/') ? 'max-age=31536000, immutable' : 'no-cache',
    },
  });
}

function missing(path: string): Response {
  return answerRefusal('no-such-file', `"${path}" is no file of the app.`);
}

function notBuilt(): Response {
  const page = `<!doctype html>
<html lang="en">
<meta charset="utf-8">
<title>Benchwright</title>
<style>body { font: 1.1rem/1.5 system-ui, sans-serif; max-width: 36rem; margin: 4rem auto; padding: 0 1rem; }</style>
<h1>The app has not been built yet</h1>
<p>The server is running, and the labs are there, but the screens are not. In the folder of the program, say</p>
<pre>npm run build</pre>
<p>and load this page again.</p>
</html>
`;
  return new Response(page, {
    status: 503,
    headers: {
      ...SECURITY_HEADERS.app,
      'Content-Type': 'text/html; charset=utf-8',
      'Cache-Control': 'no-store',
    },
  });
}
