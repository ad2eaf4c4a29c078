import { readFile, rename, rm } from 'node:fs/promises';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { readLab } from '../../src/lab/index.ts';
import { ask, at, makeFolder, serve, write } from './talk.ts';

describe('the shelf', () => {
  it('holds the lab that was opened, those of the current folder and those that come along, each once', async () => {
    const folder = await makeFolder();
    await write(folder, {
      'mine/lab.yaml': 'benchwright: 1\ntitle: <img src=x onerror=alert(1)>\nquestion: "Why?"\n',
      'broken/lab.yaml': 'title: [never closed\n',
      'labs/third/lab.yaml': 'title: The third\n',
      'not-a-lab/readme.txt': 'x',
      '.hidden/lab.yaml': 'title: hidden\n',
    });
    const { server } = await serve({ folder });
    const { json, headers } = await ask(server, '/api/shelf');
    expect(headers['content-type']).toBe('application/json; charset=utf-8');
    const labs = at(json, 'labs');
    if (!Array.isArray(labs)) throw new Error('no labs');
    expect(labs.map((lab) => [at(lab, 'folder'), at(lab, 'title'), at(lab, 'mine')])).toEqual([
      ['mine', '<img src=x onerror=alert(1)>', true],
      ['broken', 'broken', true],
      ['labs/third', 'The third', true],
      ...labs.slice(3).map((lab) => [at(lab, 'folder'), at(lab, 'title'), false]),
    ]);
    expect(labs.map((lab) => at(lab, 'folder'))).toContain('tow-chain');
    for (const lab of labs) expect(at(lab, 'id')).toMatch(/^[0-9a-f]{12}$/);
    expect(JSON.stringify(json)).not.toContain(folder);
  });

  it('knows a lab under the same word after the server was started again', async () => {
    const first = await serve();
    const again = await serve({ folder: first.folder });
    expect(again.id).toBe(first.id);
  });

  it('takes a copy of a lab, which is the user’s own', async () => {
    const { server, folder } = await serve({ opened: 'tow-chain' });
    const shelf = await ask(server, '/api/shelf');
    const body = JSON.stringify({ from: at(shelf.json, 'opened'), name: 'my-chain' });
    const made = await ask(server, '/api/labs', { method: 'POST', body });
    expect([made.status, at(made.json, 'folder')]).toEqual([201, 'my-chain']);
    const lab = await ask(server, `/api/labs/${at(made.json, 'id')}`);
    expect(at(lab.json, 'mine')).toBe(true);
    const again = await ask(server, '/api/labs', { method: 'POST', body });
    expect([again.status, at(again.json, 'problems', 0, 'code')]).toEqual([409, 'already-there']);
    const bad = JSON.stringify({ from: at(shelf.json, 'opened'), name: '../out' });
    expect((await ask(server, '/api/labs', { method: 'POST', body: bad })).status).toBe(422);
    expect((await ask(server, '/api/labs', { method: 'POST', body: '{"from":1}' })).status).toBe(400);
    expect((await ask(server, '/api/labs', { method: 'POST', body: '{' })).status).toBe(400);
    await rm(join(folder, 'my-chain'), { recursive: true });
  });

  it('takes a lab that has nothing yet but its name, and no problem', async () => {
    const { server, folder } = await serve();
    const body = JSON.stringify({ from: null, name: 'bouncing-ball' });
    const made = await ask(server, '/api/labs', { method: 'POST', body });
    expect(made.status).toBe(201);
    const text = await readFile(join(folder, 'bouncing-ball', 'lab.yaml'), 'utf8');
    const lab = readLab(text, 'lab.yaml');
    expect(lab.ok && lab.value.title).toBe('Bouncing ball');
  });

  it('says so where a lab’s folder has gone, and serves it again when it is back', async () => {
    const { server, mine, id } = await serve();
    await rename(mine, `${mine}-away`);
    for (const path of ['', '/files/lab.yaml']) {
      const answer = await ask(server, `/api/labs/${id}${path}`);
      expect([path, answer.status]).toEqual([path, 404]);
    }
    const write = { method: 'PUT', headers: { 'If-None-Match': '*' }, body: Buffer.from('# x') };
    expect((await ask(server, `/api/labs/${id}/files/text/x.md`, write)).status).toBe(404);
    const trial = { method: 'POST', body: Buffer.from('x') };
    expect((await ask(server, `/api/labs/${id}/trials?name=a.csv`, trial)).status).toBe(404);
    await rename(`${mine}-away`, mine);
    expect((await ask(server, `/api/labs/${id}`)).status).toBe(200);
  });

  it('knows no lab of another word', async () => {
    const { server } = await serve();
    for (const word of ['000000000000', '..', '%2e%2e', 'mine', '__proto__', 'constructor']) {
      expect((await ask(server, `/api/labs/${word}/files/lab.yaml`)).status).toBe(404);
    }
  });
});
