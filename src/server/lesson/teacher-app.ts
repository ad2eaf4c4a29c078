import { Hono } from 'hono';
import { readBody } from '../read-body.ts';
import type { EntryStore } from './entry-store.ts';
import { lessonCsv } from './export-csv.ts';
import type { Lesson } from './lesson.ts';
import { isCode } from './lesson-code.ts';
import { readForm, textOf, whyNotOurs } from './lesson-guard.ts';
import { answerPage, answerText, goTo, markup } from './page.ts';
import { LIVE_SCRIPT, liveBody, teacherBody } from './teacher-page.ts';

export interface TeacherParts {
  readonly lesson: Lesson;
  readonly store: EntryStore;
  /** Where students find the lesson. */
  readonly address: () => string;
  /** Port of the teacher's own server. */
  readonly port: () => number;
}

/** Everything that the teacher can reach, and nobody but this computer. */
export function createTeacherApp({ lesson, store, address, port }: TeacherParts): Hono {
  const app = new Hono();
  const { language, words } = lesson;
  const page = (problem: string | null, status = 200) =>
    answerPage(
      language,
      words.teacher.title(lesson.lab.title),
      teacherBody(lesson, lesson.workOf(store), { address: address(), code: store.code(), problem }),
      status,
    );
  app.use(async (context, next) => {
    const { raw } = context.req;
    const hosts = ['127.0.0.1', 'localhost'].map((name) => `${name}:${port()}`);
    const site = raw.headers.get('sec-fetch-site');
    const refused =
      whyNotOurs(raw, hosts) ??
      (site === null || site === 'same-origin' || site === 'none'
        ? null
        : 'This request comes from a page of another place.');
    return refused === null
      ? next()
      : answerPage(language, words.lesson, markup`<p class="problem" role="alert">${refused}</p>`, 403);
  });
  app.get('/', () => page(null));
  app.get('/live', () => answerText(liveBody(lesson, lesson.workOf(store)).html, 'text/html; charset=utf-8'));
  app.get('/live.js', () => answerText(LIVE_SCRIPT, 'text/javascript; charset=utf-8'));
  app.get('/entries.csv', () =>
    answerText(lessonCsv(lesson, lesson.workOf(store)), 'text/csv; charset=utf-8', {
      'Content-Disposition': 'attachment; filename="entries.csv"',
    }),
  );
  app.get('/readings/:entry{[0-9]+}', (context) => {
    const entry = store.readings(Number(context.req.param('entry')));
    if (entry === null) return page(words.teacher.noReadings, 404);
    return answerText(new Uint8Array(entry.bytes), 'application/octet-stream', {
      'Content-Disposition': `attachment; filename*=UTF-8''${encodeURIComponent(entry.name).replace(/['()*]/g, '_')}`,
    });
  });
  // Said twice, by two pages, each of these does what it did once.
  app.post('/groups/:group{[0-9]+}/:what{set-aside|count}', (context) => {
    store.setAside(Number(context.req.param('group')), context.req.param('what') === 'set-aside');
    return goTo('/');
  });
  app.post('/entries/:entry{[0-9]+}/delete', (context) => {
    store.deleteEntry(Number(context.req.param('entry')));
    return goTo('/');
  });
  app.post('/delete-all', async (context) => {
    const body = await readBody(context.req.raw, 2 ** 14);
    const form = body.ok ? await readForm(body.value, context.req.header('content-type')) : null;
    // The code is another one afterwards: a page that is older than that deletes nothing.
    if (form === null || !isCode(textOf(form, 'code'), store.code()))
      return page(words.teacher.notDeleted, 422);
    store.deleteAll();
    return goTo('/');
  });
  app.notFound(() => page(words.noSuchPage, 404));
  app.onError((error) =>
    answerPage(
      language,
      words.lesson,
      markup`<p class="problem" role="alert">${words.teacher.inside(error instanceof Error ? error.message : String(error))}</p>`,
      500,
    ),
  );
  return app;
}
