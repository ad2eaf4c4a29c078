import { symlink } from 'node:fs/promises';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { ask, makeFolder, serve, write } from './talk.ts';

const appFolder = await makeFolder();
const outside = await makeFolder();
await write(outside, { 'secret.txt': 'not for anybody' });
await write(appFolder, {
  'index.html': '<!doctype html><title>bench</title>',
  'assets/main-1a2b.js': 'export {};',
  'assets/font.woff2': 'f',
});
await symlink(outside, join(appFolder, 'assets', 'linked'));
const { server } = await serve({ appFolder });

describe('the app', () => {
  it.each(['/', '/lab/abc/trials', '/anything'])('is at %s, under a strict policy', async (path) => {
    const answer = await ask(server, path);
    expect([answer.status, answer.text]).toEqual([200, '<!doctype html><title>bench</title>']);
    const policy = String(answer.headers['content-security-policy']).split('; ');
    expect(policy).toEqual(
      expect.arrayContaining([
        "default-src 'none'",
        "connect-src 'self'",
        "worker-src 'self'",
        "base-uri 'none'",
        "form-action 'none'",
        "frame-ancestors 'none'",
      ]),
    );
    expect(policy.find((part) => part.startsWith('script-src'))).not.toContain('unsafe-inline');
  });

  it('brings its files under their types, to be kept where the name changes with the content', async () => {
    const script = await ask(server, '/assets/main-1a2b.js');
    expect(script.headers).toMatchObject({
      'content-type': 'text/javascript; charset=utf-8',
      'cache-control': 'max-age=31536000, immutable',
    });
    expect((await ask(server, '/')).headers['cache-control']).toBe('no-cache');
  });

  it.each([
    '/assets/../../secret.txt',
    '/..%2fsecret.txt',
    '/assets/linked/secret.txt',
    '/%',
    '/no-such.js',
    '/.env',
  ])('brings nothing at %s', async (path) => {
    const answer = await ask(server, path);
    expect(answer.status).toBeGreaterThanOrEqual(400);
    expect(answer.text).not.toContain('not for anybody');
  });

  it('says how it is built where it has not been', async () => {
    const { server: bare } = await serve();
    const answer = await ask(bare, '/');
    expect([answer.status, answer.headers['content-type']]).toEqual([503, 'text/html; charset=utf-8']);
    expect(answer.text).toContain('npm run build');
  });
});
