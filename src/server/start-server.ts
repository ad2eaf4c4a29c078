import { mkdtemp, rm } from 'node:fs/promises';
import { createServer, type Server } from 'node:http';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { getRequestListener } from '@hono/node-server';
import { createFileDigests, errorCode, type LabFolder } from '../files/index.ts';
import type { Outcome } from '../problem/index.ts';
import { fail, problem, succeed } from '../problem/index.ts';
import { createApp } from './create-app.ts';
import { createDocumentDesk } from './document-desk.ts';
import { createEventHub } from './event-hub.ts';
import { createShelf } from './shelf.ts';
import { createTurns } from './turns.ts';
import { watchLabs } from './watch-labs.ts';
import { watchShelf } from './watch-shelf.ts';

export interface ServerOptions {
  /** The lab to open first; null where none was named. */
  readonly opened: LabFolder | null;
  /** The current folder: labs in it are the user's own, and new ones are made in it. */
  readonly folder: string;
  /** The folder of the labs that come along; they are never written to. */
  readonly shippedLabs: string;
  /** Where the built app lies. */
  readonly appFolder: string;
  readonly version: string;
  /** The program of the thread that makes documents; null where they are made in the server's own. */
  readonly documentThread: URL | null;
  /** A port, 0 for any that is free; null for the usual one, or one after it where that is taken. */
  readonly port: number | null;
}

export interface RunningServer {
  readonly address: string;
  readonly port: number;
  close(): Promise<void>;
}

/**
 * Always the same where it is free: what the page keeps in the browser is kept under the address with its port.
 * It lies below the ports that systems hand out by themselves.
 */
const USUAL_PORT = 18_610;

/** Ports after the usual one that are tried before any that is free. */
const NEXT_PORTS = 8;

/**
 * Starts the local server of the app on the loopback address.
 *
 * @returns fails where the port that was asked for is taken or not allowed
 */
export async function startServer(options: ServerOptions): Promise<Outcome<RunningServer>> {
  const digests = createFileDigests();
  const hub = createEventHub();
  const watch = watchLabs(hub, digests);
  const state = { port: 0, aborted: false };
  const { opened, folder, shippedLabs, appFolder, version } = options;
  const shelf = createShelf({ opened, folder, shippedLabs });
  const aside = await mkdtemp(join(tmpdir(), 'benchwright-'));
  const documents = createDocumentDesk(options.documentThread);
  const turns = createTurns();
  const parts = { shelf, hub, watch, digests, turns, documents, aside, folder, appFolder, version };
  const app = createApp({ ...parts, signal: state }, () => state.port);
  const listener = getRequestListener(app.fetch, { overrideGlobalObjects: false });
  const server = createServer({ headersTimeout: 20_000, requestTimeout: 300_000 }, (incoming, outgoing) => {
    void listener(incoming, outgoing);
  });
  server.maxConnections = 512;
  const port = await listen(server, options.port);
  if (!port.ok) {
    await rm(aside, { recursive: true, force: true });
    return port;
  }
  state.port = port.value;
  const shelfWatch = watchShelf(shelf, hub, folder);
  return succeed({
    address: `http://127.0.0.1:${port.value}/`,
    port: port.value,
    async close() {
      state.aborted = true;
      hub.close();
      shelfWatch.close();
      await watch.close();
      await new Promise<void>((resolve) => {
        server.close(() => resolve());
        server.closeAllConnections();
      });
      await rm(aside, { recursive: true, force: true });
    },
  });
}

async function listen(server: Server, wanted: number | null): Promise<Outcome<number>> {
  const ports = wanted === null ? [...usualPorts(), 0] : [wanted];
  for (const port of ports) {
    const code = await listenOn(server, port);
    if (code === null) {
      const address = server.address();
      return succeed(typeof address === 'object' && address !== null ? address.port : port);
    }
    if (wanted === null && ['EADDRINUSE', 'EACCES'].includes(code)) continue;
    const why = code === 'EADDRINUSE' ? 'is taken by another program' : `cannot be used (${code})`;
    return fail(problem('port-taken', {}, `Port ${port} ${why}.`, 'Name another one, or none.'));
  }
  return fail(problem('port-taken', {}, 'No port of this computer is free.'));
}

function usualPorts(): readonly number[] {
  return Array.from({ length: NEXT_PORTS + 1 }, (_, index) => USUAL_PORT + index);
}

/** Null where the server listens; else the code of what kept it from it. */
function listenOn(server: Server, port: number): Promise<string | null> {
  return new Promise((resolve) => {
    const refused = (error: Error): void => resolve(errorCode(error) || error.message);
    server.once('error', refused);
    server.listen(port, '127.0.0.1', () => {
      server.removeListener('error', refused);
      resolve(null);
    });
  });
}
