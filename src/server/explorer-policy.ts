import { readFile } from 'node:fs/promises';
import { join } from 'node:path';
import { SECURITY_HEADERS } from './security-headers.ts';

/** The explorer as it was built, without a lab. */
export function builtExplorer(appFolder: string): string {
  return join(appFolder, '..', 'explorer.html');
}

/**
 * Headers of a published explorer: the one program that came with this server may run in it, by its digest, in an
 * origin of its own that reaches nothing. A page that a stranger put in its place, or that another version made, is
 * shown as a document and runs nothing.
 */
export async function explorerHeaders(appFolder: string): Promise<Readonly<Record<string, string>>> {
  const template = await readFile(builtExplorer(appFolder), 'utf8').catch(() => '');
  const [digest] = /'sha256-[A-Za-z0-9+/]{43}='/.exec(template.slice(0, 2000)) ?? [];
  return digest === undefined ? SECURITY_HEADERS.document : SECURITY_HEADERS.explorer(digest);
}
