import { rename, rm, writeFile } from 'node:fs/promises';
import { get } from 'node:http';
import { join } from 'node:path';
import { describe, expect, it, onTestFinished } from 'vitest';
import type { RunningServer } from '../../src/server/index.ts';
import { ask, at, serve, write } from './talk.ts';

/** A page that listens; `next` waits for the next event. */
function listen(server: RunningServer) {
  const events: unknown[] = [];
  const waiting: ((event: unknown) => void)[] = [];
  let text = '';
  const opened = new Promise<number>((resolve, reject) => {
    const sent = get(
      { host: '127.0.0.1', port: server.port, path: '/api/events', agent: false },
      (incoming) => {
        resolve(incoming.statusCode ?? 0);
        incoming.on('error', () => undefined);
        incoming.on('data', (chunk: Buffer) => {
          text += chunk.toString('utf8');
          const parts = text.split('\n\n');
          text = parts.pop() ?? '';
          for (const part of parts.filter((one) => one.startsWith('data: '))) {
            const event: unknown = JSON.parse(part.slice(6));
            const first = waiting.shift();
            if (first === undefined) events.push(event);
            else first(event);
          }
        });
      },
    );
    sent.on('error', reject);
    onTestFinished(() => {
      sent.destroy();
    });
  });
  const next = (): Promise<unknown> =>
    events.length > 0 ? Promise.resolve(events.shift()) : new Promise((resolve) => waiting.push(resolve));
  return { opened, next, events };
}

describe('events', () => {
  it('tell what changes in the folder from outside, with the digest of what is there now', async () => {
    const { server, mine, id } = await serve();
    const page = listen(server);
    expect(await page.opened).toBe(200);
    await ask(server, `/api/labs/${id}`);
    // The folder is being watched once its watcher has looked at it.
    await new Promise((resolve) => setTimeout(resolve, 300));
    await writeFile(join(mine, 'lab.yaml'), 'title: outside\n');
    const changed = await page.next();
    const { headers } = await ask(server, `/api/labs/${id}/files/lab.yaml`);
    expect(changed).toEqual({
      kind: 'changed',
      lab: id,
      path: 'lab.yaml',
      digest: String(headers.etag).slice(1, -1),
    });
    await writeFile(join(mine, 'trials', 'new.csv'), 't (s)\n1\n');
    expect(await page.next()).toMatchObject({ kind: 'added', path: 'trials/new.csv' });
    await rm(join(mine, 'trials', 'new.csv'));
    expect(await page.next()).toEqual({ kind: 'removed', lab: id, path: 'trials/new.csv', digest: null });
  });

  it('tell of labs that come into the folder, leave it, and come back', async () => {
    const { server, folder, mine, id } = await serve();
    const page = listen(server);
    await page.opened;
    await ask(server, `/api/labs/${id}`);
    await new Promise((resolve) => setTimeout(resolve, 300));
    await write(folder, { 'new/lab.yaml': 'title: New\n' });
    expect(await page.next()).toEqual({ kind: 'shelf' });
    await rename(mine, `${mine}-away`);
    const left = [await page.next(), await page.next()];
    expect(left).toContainEqual({ kind: 'shelf' });
    await rename(`${mine}-away`, mine);
    await expect.poll(async () => (await ask(server, `/api/labs/${id}`)).status, { timeout: 5000 }).toBe(200);
    await new Promise((resolve) => setTimeout(resolve, 500));
    page.events.length = 0;
    await writeFile(join(mine, 'lab.yaml'), 'title: back\n');
    for (;;) {
      const event = await page.next();
      if (at(event, 'kind') === 'changed' && at(event, 'path') === 'lab.yaml') break;
    }
  });

  it('tell every page what one of them wrote, once', async () => {
    const { server, id } = await serve();
    const pages = [listen(server), listen(server)];
    await Promise.all(pages.map(({ opened }) => opened));
    await ask(server, `/api/labs/${id}`);
    await new Promise((resolve) => setTimeout(resolve, 300));
    const put = await ask(server, `/api/labs/${id}/files/text/note.md`, {
      method: 'PUT',
      headers: { 'If-None-Match': '*' },
      body: Buffer.from('# Note\n'),
    });
    for (const page of pages) {
      expect(await page.next()).toEqual({
        kind: 'added',
        lab: id,
        path: 'text/note.md',
        digest: at(put.json, 'digest'),
      });
    }
    await new Promise((resolve) => setTimeout(resolve, 500));
    expect(pages.map(({ events }) => events)).toEqual([[], []]);
  });

  it('are for a bounded number of pages, and a page that has gone makes room', async () => {
    const { server } = await serve();
    const open = await Promise.all(Array.from({ length: 64 }, () => listenBriefly(server)));
    expect(open.map(({ status }) => status)).toEqual(Array.from({ length: 64 }, () => 200));
    expect((await ask(server, '/api/events')).status).toBe(503);
    for (const { leave } of open) leave();
    await expect.poll(async () => (await listenBriefly(server)).status, { timeout: 5000 }).toBe(200);
  });
});

function listenBriefly(
  server: RunningServer,
): Promise<{ readonly status: number; readonly leave: () => void }> {
  return new Promise((resolve, reject) => {
    const sent = get(
      { host: '127.0.0.1', port: server.port, path: '/api/events', agent: false },
      (incoming) => {
        incoming.on('error', () => undefined);
        incoming.resume();
        resolve({ status: incoming.statusCode ?? 0, leave: () => sent.destroy() });
      },
    );
    sent.on('error', reject);
    onTestFinished(() => {
      sent.destroy();
    });
  });
}
