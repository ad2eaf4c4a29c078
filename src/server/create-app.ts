import { Hono } from 'hono';
import { problem } from '../problem/index.ts';
import { answerProblems, answerRefusal } from './answers.ts';
import { documentRoutes } from './document-routes.ts';
import { whyRefused } from './guard.ts';
import { labRoutes } from './lab-routes.ts';
import { serveApp } from './serve-app.ts';
import type { ServerParts } from './server-parts.ts';

/**
 * Everything the server answers, as one function of a request.
 *
 * @param port on which the server listens, asked for at each request since it is known only once it does
 */
export function createApp(parts: ServerParts, port: () => number): Hono {
  const app = new Hono();
  app.use(async (context, next) => {
    const { headers, method } = context.req.raw;
    const header = (name: string) => headers.get(name) ?? undefined;
    const refused = whyRefused(
      {
        method,
        host: header('host'),
        origin: header('origin'),
        fetchSite: header('sec-fetch-site'),
        contentType: header('content-type')?.split(';')[0]?.trim().toLowerCase(),
      },
      port(),
    );
    return refused === null ? next() : answerRefusal('refused', refused);
  });
  app.route('/api', labRoutes(parts));
  app.route('/api', documentRoutes(parts));
  app.get('/api/events', () => parts.hub.listen() ?? tooMany());
  app.all('/api/*', () => answerRefusal('no-such-file', 'The server has nothing of that name.'));
  app.get('*', (context) => serveApp(parts.appFolder, pathOf(context.req.raw.url)));
  app.notFound(() => answerRefusal('no-such-file', 'The server has nothing of that name.'));
  app.onError((error) => {
    const reason = error instanceof Error ? (error.message.split('\n')[0] ?? '') : String(error);
    return answerProblems([
      problem('internal', {}, `Something went wrong inside the server (${reason}).`, 'Please report it.'),
    ]);
  });
  return app;
}

function tooMany(): Response {
  return answerRefusal('too-many', 'Too many pages of this server are open. Close some of them.');
}

/** A path that cannot be decoded is that of no file. */
function pathOf(url: string): string {
  try {
    return decodeURIComponent(new URL(url).pathname).slice(1);
  } catch {
    return '.';
  }
}
