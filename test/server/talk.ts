import { cp, mkdir, mkdtemp, realpath, rm, writeFile } from 'node:fs/promises';
import { type IncomingHttpHeaders, request } from 'node:http';
import { tmpdir } from 'node:os';
import { dirname, join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { afterAll } from 'vitest';
import { findLabFolder } from '../../src/files/index.ts';
import { succeed } from '../../src/problem/index.ts';
import { type RunningServer, startServer } from '../../src/server/index.ts';

const shippedLabs = fileURLToPath(new URL('../../labs/', import.meta.url));

export interface Answer {
  readonly status: number;
  readonly headers: IncomingHttpHeaders;
  readonly body: Buffer;
  readonly text: string;
  /** The body as JSON; undefined where it is none. */
  readonly json: unknown;
}

export interface Asked {
  readonly method?: string;
  readonly headers?: Readonly<Record<string, string>>;
  readonly body?: string | Uint8Array;
}

/** Sends a request exactly as written: no path is tidied and no header is added but those of a page of our own. */
export function ask(server: RunningServer, path: string, asked: Asked = {}): Promise<Answer> {
  const { method = 'GET', headers = {}, body } = asked;
  const own = {
    Host: `127.0.0.1:${server.port}`,
    ...(method === 'GET' ? {} : { Origin: `http://127.0.0.1:${server.port}` }),
    ...(body === undefined
      ? {}
      : {
          'Content-Type': typeof body === 'string' ? 'application/json' : 'application/octet-stream',
          'Content-Length': String(Buffer.byteLength(body)),
        }),
  };
  return new Promise((resolve, reject) => {
    const sent = request(
      { host: '127.0.0.1', port: server.port, path, method, headers: { ...own, ...headers }, agent: false },
      (incoming) => {
        const chunks: Buffer[] = [];
        incoming.on('data', (chunk: Buffer) => chunks.push(chunk));
        incoming.on('end', () => {
          const whole = Buffer.concat(chunks);
          resolve({
            status: incoming.statusCode ?? 0,
            headers: incoming.headers,
            body: whole,
            text: whole.toString('utf8'),
            json: asJson(whole.toString('utf8')),
          });
        });
      },
    );
    sent.on('error', reject);
    sent.end(body);
  });
}

function asJson(text: string): unknown {
  try {
    return JSON.parse(text);
  } catch {
    return undefined;
  }
}

/** A value within JSON, by the keys that lead to it. */
export function at(value: unknown, ...keys: readonly (string | number)[]): unknown {
  return keys.reduce<unknown>(
    (inner, key) => (typeof inner === 'object' && inner !== null ? Reflect.get(inner, key) : undefined),
    value,
  );
}

/** A folder of its own for a test file, without links; it is gone afterwards. */
export async function makeFolder(): Promise<string> {
  const folder = await realpath(await mkdtemp(join(tmpdir(), 'benchwright-server-')));
  afterAll(() => rm(folder, { recursive: true, force: true }));
  return folder;
}

export async function write(
  folder: string,
  files: Readonly<Record<string, string | Uint8Array>>,
): Promise<void> {
  for (const [name, content] of Object.entries(files)) {
    await mkdir(dirname(join(folder, name)), { recursive: true });
    await writeFile(join(folder, name), content);
  }
}

/** A running server over a folder of its own that holds "mine", a copy of a shipped lab. */
export async function serve(
  options: { readonly appFolder?: string; readonly folder?: string; readonly opened?: string | null } = {},
): Promise<{
  readonly server: RunningServer;
  readonly folder: string;
  readonly mine: string;
  readonly id: string;
}> {
  const folder = options.folder ?? (await makeFolder());
  const mine = join(folder, 'mine');
  if (options.folder === undefined) await cp(join(shippedLabs, 'tow-chain'), mine, { recursive: true });
  const { opened: named = 'mine' } = options;
  const opened = named === null ? succeed(null) : await findLabFolder(named, folder, shippedLabs);
  if (!opened.ok) throw new Error('no lab');
  const started = await startServer({
    opened: opened.value,
    folder,
    shippedLabs,
    appFolder: options.appFolder ?? join(folder, 'no-app'),
    documentThread: null,
    version: '0.0.0-test',
    port: 0,
  });
  if (!started.ok) throw new Error(started.problems[0]?.message);
  afterAll(() => started.value.close());
  const shelf = await ask(started.value, '/api/shelf');
  return { server: started.value, folder, mine, id: String(at(shelf.json, 'opened')) };
}
