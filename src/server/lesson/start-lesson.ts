import { createServer, type Server } from 'node:http';
import { isIPv4 } from 'node:net';
import { networkInterfaces } from 'node:os';
import { getRequestListener } from '@hono/node-server';
import { getConnInfo } from '@hono/node-server/conninfo';
import type { Hono } from 'hono';
import { errorCode } from '../../files/index.ts';
import { fail, type Outcome, problem, succeed } from '../../problem/index.ts';
import { openEntryStore } from './entry-store.ts';
import type { Lesson } from './lesson.ts';
import { createStudentApp } from './student-app.ts';
import { createTeacherApp } from './teacher-app.ts';

export interface LessonServerOptions {
  readonly lesson: Lesson;
  /** Address of this computer in the local network; null for the first that it has. */
  readonly host: string | null;
  /** Port for students, 0 for any that is free. */
  readonly port: number;
  /** The file in which entries are kept. */
  readonly entries: string;
  /** Milliseconds, for the limits. */
  readonly now?: () => number;
}

export interface RunningLesson {
  /** For students, in the local network. */
  readonly address: string;
  readonly port: number;
  /** For the teacher, on this computer only. */
  readonly teacherAddress: string;
  readonly teacherPort: number;
  code(): string;
  close(): Promise<void>;
}

/**
 * Starts the two servers of a lesson: the students' one on an address of the local network, which has none of the
 * teacher's pages, and the teacher's one on the loopback address.
 *
 * @returns fails where there is no such address or port, or the entries cannot be kept
 */
export async function startLesson(options: LessonServerOptions): Promise<Outcome<RunningLesson>> {
  const { lesson, now = Date.now } = options;
  const host = findHost(options.host);
  if (!host.ok) return host;
  const opened = await openEntryStore(options.entries, lesson.subject);
  if (!opened.ok) return opened;
  const store = opened.value;
  const at = { students: 0, teacher: 0 };
  const address = () => `http://${host.value}:${at.students}/`;
  const students = serverOf(
    createStudentApp({
      lesson,
      store,
      host: () => (at.students === 80 ? host.value : `${host.value}:${at.students}`),
      asker: (context) => getConnInfo(context).remote.address ?? '',
      now,
    }),
  );
  const teacher = serverOf(createTeacherApp({ lesson, store, address, port: () => at.teacher }));
  const close = async (): Promise<void> => {
    await Promise.all([students, teacher].map(closeServer));
    await store.close();
  };
  for (const [server, name, on, port] of [
    [students, 'students', host.value, options.port],
    [teacher, 'teacher', '127.0.0.1', 0],
  ] as const) {
    const listening = await listenAt(server, on, port);
    if (!listening.ok) {
      await close();
      return listening;
    }
    at[name] = listening.value;
  }
  return succeed({
    address: address(),
    port: at.students,
    teacherAddress: `http://127.0.0.1:${at.teacher}/`,
    teacherPort: at.teacher,
    code: () => store.code(),
    close,
  });
}

function findHost(wanted: string | null): Outcome<string> {
  const own = Object.values(networkInterfaces()).flatMap((addresses) => addresses ?? []);
  const [first] = own.filter(({ family, internal }) => family === 'IPv4' && !internal);
  if (wanted === null && first === undefined) {
    const message = 'This computer is in no local network.';
    return fail(problem('no-network', {}, message, 'Join one, or name an address with --host.'));
  }
  const host = wanted ?? first?.address ?? '';
  if (isIPv4(host) && own.some(({ address }) => address === host)) return succeed(host);
  const addresses = own.flatMap(({ family, address }) => (family === 'IPv4' ? [address] : []));
  return fail(
    problem(
      'usage',
      { step: `--host ${host}` },
      `"${host}" is no address of this computer.`,
      `It has ${addresses.join(', ') || 'none'}.`,
    ),
  );
}

function serverOf(app: Hono): Server {
  const listener = getRequestListener(app.fetch, { overrideGlobalObjects: false });
  const server = createServer({ headersTimeout: 20_000, requestTimeout: 60_000 }, (incoming, outgoing) => {
    void listener(incoming, outgoing);
  });
  server.maxConnections = 512;
  return server;
}

function listenAt(server: Server, host: string, port: number): Promise<Outcome<number>> {
  return new Promise((resolve) => {
    server.once('error', (error) => {
      const code = errorCode(error) || error.message;
      const why = code === 'EADDRINUSE' ? 'is taken by another program' : `cannot be used (${code})`;
      resolve(fail(problem('port-taken', {}, `Port ${port} ${why}.`, 'Name another one, or none.')));
    });
    server.listen(port, host, () => {
      const address = server.address();
      resolve(succeed(typeof address === 'object' && address !== null ? address.port : port));
    });
  });
}

function closeServer(server: Server): Promise<void> {
  return new Promise((resolve) => {
    server.close(() => resolve());
    server.closeAllConnections();
  });
}
