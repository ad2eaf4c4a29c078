import { createHash } from 'node:crypto';
import { type Context, Hono } from 'hono';
import { getCookie } from 'hono/cookie';
import { type Problem, problem } from '../../problem/index.ts';
import { readBody } from '../read-body.ts';
import { createAllowance } from './allowance.ts';
import type { EntryStore, KeptNumber, NewEntry } from './entry-store.ts';
import type { GroupWork, Lesson } from './lesson.ts';
import { isCode, openSeal, sealGroup } from './lesson-code.ts';
import { readForm, textOf, whyNotOurs } from './lesson-guard.ts';
import { answerPage, type ExtraHeaders, goTo, markup } from './page.ts';
import { joinPage, stationPage } from './student-pages.ts';

const MOST_FORM = 2 ** 14;
const MOST_READINGS = 2 * 2 ** 20;
const MOST_NAME = 40;
/** Entries of one group in a lesson, and files among them: nobody needs more, and what is kept stays bounded. */
const MOST_ENTRIES = 100;
const MOST_FILES = 12;

export interface StudentParts {
  readonly lesson: Lesson;
  readonly store: EntryStore;
  /** Address and port that the students' server listens on; asked for at each request. */
  readonly host: () => string;
  /** Who is asking, for the limits: the address at the other end. */
  readonly asker: (context: Context) => string;
  readonly now: () => number;
}

/** Everything that students can reach. Nothing of the teacher's is in it. */
export function createStudentApp({ lesson, store, host, asker, now }: StudentParts): Hono {
  const wrongCodes = createAllowance(8, 15, now);
  const requests = createAllowance(600, 1 / 40, now);
  const entering = createAllowance(5, 4, now);
  const app = new Hono();
  const { words, language } = lesson;

  const free = () => {
    const taken = new Set(store.groups().map(({ station }) => station));
    return lesson.stations.filter(({ name }) => !taken.has(name));
  };
  const workOf = (context: Context): GroupWork | null => {
    const group = openSeal(getCookie(context, 'group') ?? '', store.secret());
    return lesson.workOf(store).find((work) => work.group.id === group) ?? null;
  };
  const tooFast = (seconds: number) => ({
    message: words.tooFast(seconds),
    headers: { 'Retry-After': String(seconds) },
  });
  /** Why a group may not enter anything now; null where it may. */
  const refusedNow = (work: GroupWork, files: boolean): Response | null => {
    const wait = entering.take(String(work.group.id));
    if (wait > 0) {
      const { message, headers } = tooFast(wait);
      return stationPage(lesson, work, [problem('too-many', {}, message)], 429, headers);
    }
    const sent = work.entries.filter(({ file }) => file !== null).length;
    if (work.entries.length < MOST_ENTRIES && !(files && sent >= MOST_FILES)) return null;
    return stationPage(lesson, work, [problem('too-many', {}, words.station.enough)], 429);
  };
  const keep = (work: GroupWork, numbers: readonly KeptNumber[], file: NewEntry['file']): Response => {
    store.add({ group: work.group.id, at: now(), numbers, file });
    return goTo('/');
  };
  const refuse = (work: GroupWork, problems: readonly Problem[]): Response =>
    stationPage(lesson, work, problems, problems[0]?.code === 'file-too-large' ? 413 : 422);

  const say = (message: string, status: number, headers: ExtraHeaders = {}): Response => {
    const body = markup`<p class="problem" role="alert">${message}</p><p><a href="/">${words.back}</a></p>`;
    return answerPage(language, words.lesson, body, status, headers);
  };

  app.use(async (context, next) => {
    const refused = whyNotOurs(context.req.raw, [host()]);
    if (refused !== null) return say(refused, 403);
    const wait = requests.take(asker(context));
    if (wait === 0) return next();
    const { message, headers } = tooFast(wait);
    return say(message, 429, headers);
  });
  app.get('/', (context) => {
    const work = workOf(context);
    return work === null ? joinPage(lesson, free(), null) : stationPage(lesson, work);
  });
  app.post('/join', async (context) => {
    const who = asker(context);
    const wait = wrongCodes.wait(who);
    if (wait > 0) {
      const { message, headers } = tooFast(wait);
      return joinPage(lesson, free(), message, 429, headers);
    }
    const body = await readBody(context.req.raw, MOST_FORM);
    if (!body.ok) return say(words.tooLarge, 413, CLOSE);
    const form = await readForm(body.value, context.req.header('content-type'));
    if (form === null) return joinPage(lesson, free(), words.noForm, 400);
    if (!isCode(textOf(form, 'code'), store.code())) {
      wrongCodes.take(who);
      return joinPage(lesson, free(), words.join.wrongCode, 403);
    }
    const name = textOf(form, 'group')
      .normalize('NFC')
      .replace(/[\p{C}\s]+/gu, ' ')
      .trim();
    if (name === '' || name.length > MOST_NAME)
      return joinPage(lesson, free(), words.join.wrongName(MOST_NAME), 422);
    const station = textOf(form, 'station');
    const isIn = store.groups().some((group) => group.name.toLowerCase() === name.toLowerCase());
    if (!isIn && !lesson.stations.some((one) => one.name === station))
      return joinPage(lesson, free(), words.join.noStation, 422);
    const group = store.join(name, station);
    if (group === null) return joinPage(lesson, free(), words.join.taken(station), 409);
    const seal = sealGroup(group.id, store.secret());
    return goTo('/', { 'Set-Cookie': `group=${seal}; Path=/; HttpOnly; SameSite=Strict` });
  });
  app.post('/results', async (context) => {
    const work = workOf(context);
    if (work === null) return joinPage(lesson, free(), words.join.first, 403);
    const refused = refusedNow(work, false);
    if (refused !== null) return refused;
    const body = await readBody(context.req.raw, MOST_FORM);
    if (!body.ok) return say(words.tooLarge, 413, CLOSE);
    const form = await readForm(body.value, context.req.header('content-type'));
    const texts = lesson.lab.results.map(
      ({ name }) => [name, form === null ? '' : textOf(form, `result ${name}`).slice(0, MOST_NAME)] as const,
    );
    const numbers = lesson.readTyped(new Map(texts));
    return numbers.ok ? keep(work, numbers.value, null) : refuse(work, numbers.problems);
  });
  app.post('/readings', async (context) => {
    const work = workOf(context);
    if (work === null) return joinPage(lesson, free(), words.join.first, 403, CLOSE);
    const refused = refusedNow(work, true);
    if (refused !== null) return refused;
    const body = await readBody(context.req.raw, MOST_READINGS);
    if (!body.ok) {
      return stationPage(
        lesson,
        work,
        [problem('file-too-large', {}, words.station.fileTooLarge)],
        413,
        CLOSE,
      );
    }
    const form = await readForm(body.value, context.req.header('content-type'));
    const sent = form?.get('file') ?? null;
    if (sent === null || typeof sent === 'string' || sent.size === 0)
      return refuse(work, [problem('usage', {}, words.station.noFile)]);
    const bytes = new Uint8Array(await sent.arrayBuffer());
    const name = sent.name.replace(/[\p{C}/\\]+/gu, ' ').slice(0, 80) || 'readings';
    const numbers = await lesson.reduceReadings(work.group.station, name, bytes);
    if (!numbers.ok) return refuse(work, numbers.problems);
    const sha256 = createHash('sha256').update(bytes).digest('hex');
    return keep(work, numbers.value, { name, sha256, bytes });
  });
  app.notFound(() => say(words.noSuchPage, 404));
  app.onError(() => say(words.wentWrong, 500));
  return app;
}

/** The rest of what is being sent is not waited for. */
const CLOSE = { Connection: 'close' } as const;
