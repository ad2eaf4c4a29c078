import { spawn } from 'node:child_process';
import { existsSync } from 'node:fs';
import { readdir, readFile } from 'node:fs/promises';
import { type ClientRequest, get, request } from 'node:http';
import { connect } from 'node:net';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { describe, expect, it, onTestFinished } from 'vitest';
import { ask, at, makeFolder, serve, write } from './talk.ts';

const { server, mine, id } = await serve();
const program = fileURLToPath(new URL('../../dist/cli.mjs', import.meta.url));

describe('the server', () => {
  it('answers others while a reader of a large file does not read on', async () => {
    await write(mine, { 'trials/large.csv': `x\n${'1234567\n'.repeat(4 * 2 ** 20)}` });
    const slow = await new Promise<ClientRequest>((done) => {
      const path = `/api/labs/${id}/files/trials/large.csv`;
      const sent = get({ host: '127.0.0.1', port: server.port, path, agent: false }, (incoming) => {
        incoming.pause();
        incoming.on('error', () => undefined);
        done(sent);
      });
    });
    const answers = await Promise.all(
      Array.from({ length: 8 }, () => ask(server, `/api/labs/${id}/files/lab.yaml`)),
    );
    expect(answers.every(({ status }) => status === 200)).toBe(true);
    slow.destroy();
  });

  it('refuses an upload that goes beyond the limit without saying so first', async () => {
    const status = await new Promise<number>((done) => {
      const path = `/api/labs/${id}/trials?name=endless.csv`;
      const headers = {
        Origin: `http://127.0.0.1:${server.port}`,
        'Content-Type': 'application/octet-stream',
        'Transfer-Encoding': 'chunked',
      };
      const sent = request({
        host: '127.0.0.1',
        port: server.port,
        path,
        method: 'POST',
        headers,
        agent: false,
      });
      let isOver = false;
      const end = (what: number): void => {
        isOver = true;
        sent.destroy();
        done(what);
      };
      sent.on('response', (answer) => end(answer.statusCode ?? 0));
      sent.on('error', () => undefined);
      sent.on('close', () => end(0));
      const chunk = Buffer.alloc(2 ** 20, 'x');
      const go = (): void => {
        if (!isOver) sent.write(chunk, () => setImmediate(go));
      };
      go();
    });
    expect([413, 0]).toContain(status);
    expect(await readdir(join(mine, 'trials'))).not.toContain('endless.csv');
    expect((await ask(server, '/api/shelf')).status).toBe(200);
  });

  it('outlives connections that send rubbish, stop in the middle, or leave', async () => {
    const openings = [
      'GET / HTTP/1.1\r\n\r\n',
      'nonsense\r\n\r\n',
      `PUT /api/labs/${id}/files/lab.yaml HTTP/1.1\r\nHost: 127.0.0.1:${server.port}\r\nContent-Length: 100\r\n\r\nshort`,
      `GET http://evil.example/ HTTP/1.1\r\nHost: 127.0.0.1:${server.port}\r\n\r\n`,
      `GET /api/shelf HTTP/1.1\r\nHost: 127.0.0.1:${server.port}\r\nHost: evil.example\r\n\r\n`,
      `GET /${'x'.repeat(100_000)} HTTP/1.1\r\n\r\n`,
      '\u0000\u0016\u0003\u0001',
    ];
    for (const opening of openings) {
      const said = await new Promise<string>((done) => {
        const socket = connect(server.port, '127.0.0.1', () => socket.write(opening));
        let text = '';
        socket.on('data', (chunk) => (text += String(chunk)));
        socket.on('error', () => done(text));
        socket.on('close', () => done(text));
        setTimeout(() => socket.destroy(), 150);
      });
      expect(said).not.toMatch(/^HTTP\/1\.1 200/);
    }
    expect((await ask(server, '/api/shelf')).status).toBe(200);
  });

  it('answers a hundred requests at once', async () => {
    const paths = ['/api/shelf', `/api/labs/${id}`, `/api/labs/${id}/files/lab.yaml`, '/'];
    const answers = await Promise.all(
      Array.from({ length: 100 }, (_, index) => ask(server, paths[index % paths.length] ?? '/')),
    );
    expect(new Set(answers.map(({ status }) => status))).toEqual(new Set([200, 503]));
    expect(answers.filter(({ status }) => status === 503)).toHaveLength(25);
  });
});

describe.skipIf(!existsSync(program))('a server that is killed', () => {
  it('while it writes, leaves every file as it was before or after, whole', async () => {
    const folder = await makeFolder();
    const contents = ['a', 'b', 'c'].map((sign) => `# ${sign.repeat(3 * 2 ** 20)}\n`);
    await write(folder, { 'lab/lab.yaml': 'title: A\n', 'lab/text/handout.md': contents[0] ?? '' });
    for (let round = 0; round < 3; round++) {
      const child = spawn(
        process.execPath,
        [program, 'open', 'lab', '--port', '0', '--no-browser', '--json'],
        {
          cwd: folder,
        },
      );
      onTestFinished(() => void child.kill('SIGKILL'));
      const port = await new Promise<number>((done) => {
        let told = '';
        child.stdout.on('data', (chunk) => {
          told += String(chunk);
          if (told.includes('\n}\n')) done(Number(JSON.parse(told).port));
        });
      });
      const other = { address: '', port, close: () => Promise.resolve() };
      const shelf = await ask(other, '/api/shelf');
      const path = `/api/labs/${at(shelf.json, 'opened')}/files/text/handout.md`;
      const ended = new Promise((done) => child.on('close', done));
      for (let turn = 0; turn < 20; turn++) {
        const now = await ask(other, path).catch(() => null);
        const headers = { 'If-Match': String(now?.headers.etag), 'Content-Type': 'application/octet-stream' };
        const body = Buffer.from(contents[turn % 3] ?? '');
        const written = ask(other, path, { method: 'PUT', headers, body }).catch(() => null);
        if (turn === 2 + round) setTimeout(() => child.kill('SIGKILL'), 3 + 4 * round);
        if ((await written) === null) break;
      }
      await ended;
      const left = await readFile(join(folder, 'lab', 'text', 'handout.md'), 'utf8');
      expect(contents.includes(left)).toBe(true);
    }
  }, 120_000);
});
