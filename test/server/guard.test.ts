import { describe, expect, it } from 'vitest';
import { ask, at, serve } from './talk.ts';

const { server, id } = await serve();
const ours = `127.0.0.1:${server.port}`;

describe('who is answered', () => {
  it.each(['127.0.0.1', 'localhost', '[::1]'])('a request to %s at our port', async (name) => {
    const answer = await ask(server, '/api/shelf', { headers: { Host: `${name}:${server.port}` } });
    expect(answer.status).toBe(200);
  });

  it.each([
    ['a name that was made to point here', 'bench.example:80'],
    ['a name that begins like ours', `127.0.0.1.example:${server.port}`],
    ['another port', '127.0.0.1:1'],
    ['no port', '127.0.0.1'],
    ['a user before the name', `evil@127.0.0.1:${server.port}`],
  ])('is not a request to %s', async (_what, host) => {
    const answer = await ask(server, '/api/shelf', { headers: { Host: host } });
    expect(answer.status).toBeGreaterThanOrEqual(400);
    expect(answer.text).not.toContain('tow chain');
  });

  it.each([
    ['another site', 'https://evil.example'],
    ['another port of this computer', 'http://127.0.0.1:8080'],
    ['a page without an origin', 'null'],
    ['the same name over TLS', `https://${ours}`],
    ['the other name of this computer', `http://localhost:${server.port}`],
  ])('is not a page of %s', async (_what, origin) => {
    const read = await ask(server, '/api/shelf', { headers: { Origin: origin } });
    expect([read.status, at(read.json, 'problems', 0, 'code')]).toEqual([403, 'refused']);
  });

  it.each(['cross-site', 'same-site', 'nonsense'])(
    'is not a page that its browser calls %s',
    async (site) => {
      for (const path of ['/', '/api/shelf', '/api/events', `/api/labs/${id}`]) {
        expect((await ask(server, path, { headers: { 'Sec-Fetch-Site': site } })).status).toBe(403);
      }
    },
  );

  it('is our own page, and an address that the user typed', async () => {
    for (const site of ['same-origin', 'none']) {
      expect((await ask(server, '/api/shelf', { headers: { 'Sec-Fetch-Site': site } })).status).toBe(200);
    }
  });
});

describe('what changes something', () => {
  const body = JSON.stringify({ from: id, name: 'copied' });

  it('must say which page it comes from', async () => {
    const headers = { Host: ours, 'Content-Type': 'application/json' };
    const answer = await ask(server, '/api/labs', {
      method: 'POST',
      headers: { ...headers, Origin: '' },
      body,
    });
    expect(answer.status).toBe(403);
  });

  it.each(['text/plain', 'application/x-www-form-urlencoded', 'multipart/form-data', ''])(
    'cannot be sent as %s, which any page may send without being asked first',
    async (type) => {
      const answer = await ask(server, '/api/labs', {
        method: 'POST',
        headers: { 'Content-Type': type },
        body,
      });
      expect([answer.status, at(answer.json, 'problems', 0, 'code')]).toEqual([403, 'refused']);
    },
  );

  it.each(['DELETE', 'PATCH', 'OPTIONS'])(
    'is never a %s request, so no page elsewhere is given leave',
    async (method) => {
      const answer = await ask(server, `/api/labs/${id}`, { method });
      expect(answer.status).toBe(403);
      expect(answer.headers['access-control-allow-origin']).toBeUndefined();
    },
  );
});

describe('every answer', () => {
  it.each(['/', '/api/shelf', '/api/nothing', '/no-such.js'])(
    'of %s is what it says it is, and stays here',
    async (path) => {
      const { headers } = await ask(server, path);
      expect(headers).toMatchObject({
        'x-content-type-options': 'nosniff',
        'referrer-policy': 'no-referrer',
        'cross-origin-resource-policy': 'same-origin',
      });
      expect(headers['content-security-policy']).toMatch(/default-src 'none'/);
      expect(headers['access-control-allow-origin']).toBeUndefined();
    },
  );
});
