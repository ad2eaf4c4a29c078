import { readFile } from 'node:fs/promises';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { afterAll } from 'vitest';
import { createPipeline, readLab } from '../../src/lab/index.ts';
import { prepareLesson, type RunningLesson, startLesson } from '../../src/server/index.ts';
import { type Answer, ask, makeFolder } from './talk.ts';

export const shippedLabs = fileURLToPath(new URL('../../labs/', import.meta.url));

/** The pipeline of a lab that comes along. */
export async function pipelineOf(name: string) {
  const lab = readLab(await readFile(join(shippedLabs, name, 'lab.yaml'), 'utf8'), 'lab.yaml');
  if (!lab.ok) throw new Error(lab.problems[0]?.message);
  return createPipeline(lab.value);
}

const draped = await pipelineOf('draped-chain');

export interface Class {
  readonly lesson: RunningLesson;
  readonly entries: string;
  /** Lets time pass for the limits, s. */
  pass(seconds: number): void;
  /** A group comes in; its cookie, or '' where it was refused. */
  join(group: string, station: string, code?: string): Promise<Answer & { readonly cookie: string }>;
  enter(cookie: string, results: Readonly<Record<string, string>>): Promise<Answer>;
  send(cookie: string, name: string, bytes: Uint8Array): Promise<Answer>;
  student(path: string, cookie?: string): Promise<Answer>;
  teacher(path: string, form?: Readonly<Record<string, string>>, host?: string): Promise<Answer>;
}

const preparedBefore = new Map<string, ReturnType<typeof prepareLesson>>();

/** Rehearsed once a number of groups: lessons hold nothing of what happens in them. */
function prepare(groups: number, language: 'en' | 'de'): ReturnType<typeof prepareLesson> {
  const key = `${groups} ${language}`;
  const prepared = preparedBefore.get(key) ?? prepareLesson(draped, { groups, language, rehearsals: 12 });
  preparedBefore.set(key, prepared);
  return prepared;
}

/** A running lesson of the draped chain over a file of its own. */
export async function startClass(groups = 3, file?: string, language: 'en' | 'de' = 'en'): Promise<Class> {
  const prepared = prepare(groups, language);
  if (!prepared.ok) throw new Error(prepared.problems[0]?.message);
  const entries = file ?? join(await makeFolder(), 'lesson.db');
  const clock = { now: 1_700_000_000_000 };
  const started = await startLesson({
    lesson: prepared.value,
    host: '127.0.0.1',
    port: 0,
    entries,
    now: () => clock.now,
  });
  if (!started.ok) throw new Error(started.problems[0]?.message);
  const lesson = started.value;
  const open = { closed: false };
  const close = async () => {
    if (!open.closed) await lesson.close();
    open.closed = true;
  };
  afterAll(close);
  return {
    lesson: { ...lesson, close },
    entries,
    pass: (seconds) => {
      clock.now += 1000 * seconds;
    },
    ...talkTo(lesson),
  };
}

type Addresses = Pick<RunningLesson, 'address' | 'port' | 'teacherPort' | 'code'>;

export function talkTo(lesson: Addresses): Omit<Class, 'lesson' | 'entries' | 'pass'> {
  const students = { address: '', port: lesson.port, close: async () => undefined };
  const teachers = { ...students, port: lesson.teacherPort };
  const post = (path: string, form: Readonly<Record<string, string>>, cookie = '') =>
    ask(students, path, {
      method: 'POST',
      headers: { 'Content-Type': 'application/x-www-form-urlencoded', Cookie: cookie },
      body: new URLSearchParams(form).toString(),
    });
  return {
    async join(group, station, code = lesson.code()) {
      const answer = await post('/join', { code, group, station });
      const [set = ''] = answer.headers['set-cookie'] ?? [];
      return { ...answer, cookie: set.split(';')[0] ?? '' };
    },
    enter: (cookie, results) =>
      post(
        '/results',
        Object.fromEntries(Object.entries(results).map(([name, text]) => [`result ${name}`, text])),
        cookie,
      ),
    async send(cookie, name, bytes) {
      const form = new FormData();
      form.set('file', new Blob([new Uint8Array(bytes)]), name);
      const whole = new Response(form);
      return ask(students, '/readings', {
        method: 'POST',
        headers: { 'Content-Type': whole.headers.get('content-type') ?? '', Cookie: cookie },
        body: new Uint8Array(await whole.arrayBuffer()),
      });
    },
    student: (path, cookie = '') => ask(students, path, { headers: { Cookie: cookie } }),
    teacher: (path, form, host = `127.0.0.1:${lesson.teacherPort}`) =>
      ask(teachers, path, {
        headers: { Host: host },
        ...(form === undefined
          ? {}
          : {
              method: 'POST',
              headers: { Host: host, 'Content-Type': 'application/x-www-form-urlencoded' },
              body: new URLSearchParams(form).toString(),
            }),
      }),
  };
}
