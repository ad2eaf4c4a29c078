import { createHash } from 'node:crypto';
import { chmod, mkdir, readdir, readFile, rm, symlink, utimes, writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { ask, at, makeFolder, serve, write } from './talk.ts';

const { server, folder, mine, id } = await serve();
const outside = await makeFolder();
await write(outside, { 'secret.txt': 'not for anybody', 'lab.yaml': 'title: elsewhere\n' });
await write(folder, { 'beside.txt': 'not for anybody' });

const digest = (content: string | Uint8Array) => createHash('sha256').update(content).digest('hex');
const url = (path: string) => `/api/labs/${id}/files/${path}`;

describe('a file of a lab', () => {
  it('comes with its digest, which the list of files has too', async () => {
    const listed = await ask(server, `/api/labs/${id}`);
    const files = at(listed.json, 'files');
    const entry = Array.isArray(files) ? files.find((file) => at(file, 'path') === 'lab.yaml') : null;
    const file = await ask(server, url('lab.yaml'));
    const content = await readFile(join(mine, 'lab.yaml'));
    expect(file.body.equals(content)).toBe(true);
    expect(file.headers.etag).toBe(`"${digest(content)}"`);
    expect(entry).toEqual({ path: 'lab.yaml', size: content.length, digest: digest(content) });
  });

  it('is not sent twice to a page that has it', async () => {
    const first = await ask(server, url('lab.yaml'));
    const again = await ask(server, url('lab.yaml'), {
      headers: { 'If-None-Match': String(first.headers.etag) },
    });
    expect([again.status, again.text]).toEqual([304, '']);
  });

  it('is text or bytes, never a page, whatever it holds', async () => {
    const script = '<script>alert(1)</script>';
    await write(mine, {
      'trials/cells.csv': `t (s),${script}\n1,${script}\n`,
      'text/page.html': script,
      'text/drawing.svg': `<svg xmlns="http://www.w3.org/2000/svg">${script}</svg>`,
      'trials/it\'s "quoted".csv': 't (s)\n5\n',
      'trials/no-ending': script,
    });
    const types: Record<string, unknown> = {};
    for (const path of [
      'trials/cells.csv',
      'text/page.html',
      'text/drawing.svg',
      'trials/no-ending',
      'lab.yaml',
    ]) {
      const answer = await ask(server, url(path));
      expect(answer.status).toBe(200);
      expect(answer.headers['content-security-policy']).toMatch(/^sandbox; default-src 'none'/);
      expect(answer.headers['x-content-type-options']).toBe('nosniff');
      types[path] = answer.headers['content-type'];
    }
    expect(types).toEqual({
      'trials/cells.csv': 'text/plain; charset=utf-8',
      'text/page.html': 'application/octet-stream',
      'text/drawing.svg': 'image/svg+xml',
      'trials/no-ending': 'application/octet-stream',
      'lab.yaml': 'text/plain; charset=utf-8',
    });
    const quoted = await ask(server, url(encodeURIComponent('trials/it\'s "quoted".csv')));
    expect(quoted.text).toBe('t (s)\n5\n');
    expect(quoted.headers['content-disposition']).not.toContain('"quoted"');
  });

  it.each([
    ['../beside.txt'],
    ['..%2fbeside.txt'],
    ['%2e%2e/beside.txt'],
    ['%2e%2e%2fbeside.txt'],
    ['trials/../../beside.txt'],
    ['trials%2f..%2f..%2fbeside.txt'],
    ['..%5cbeside.txt'],
    ['trials%5c..%5c..%5cbeside.txt'],
    ['%252e%252e%252fbeside.txt'],
    ['/etc/passwd'],
    ['%2fetc%2fpasswd'],
    ['//etc/passwd'],
    ['file:%2f%2f%2fetc%2fpasswd'],
    ['C:%5cWindows%5cwin.ini'],
    ['lab.yaml%00.txt'],
    ['%00'],
    ['.'],
    ['%2e'],
    ['trials'],
    ['trials/'],
    ['lab.yaml/'],
    ['lab.yaml/x'],
    ['%'],
    ['%c0%ae%c0%ae/beside.txt'],
    ['lab.yaml:stream'],
    ['x'.repeat(5000)],
  ])('is never reached by leading out: %s', async (path) => {
    const read = await ask(server, url(path));
    expect(read.status).toBeGreaterThanOrEqual(400);
    expect(read.status).toBeLessThan(500);
    expect(read.text).not.toMatch(/not for anybody|root:/);
    const put = await ask(server, url(path), {
      method: 'PUT',
      headers: { 'If-None-Match': '*' },
      body: new Uint8Array([1]),
    });
    expect(put.status).toBeGreaterThanOrEqual(400);
    expect(put.status).toBeLessThan(500);
    expect(await readFile(join(folder, 'beside.txt'), 'utf8')).toBe('not for anybody');
  });

  it('is not reached, listed or written through a link that leads out', async () => {
    await symlink(join(outside, 'secret.txt'), join(mine, 'linked.txt'));
    await symlink(outside, join(mine, 'linked'));
    await symlink(join(outside, 'made.bib'), join(mine, 'references.bib2'));
    for (const path of ['linked.txt', 'linked/secret.txt']) {
      expect((await ask(server, url(path))).status).toBe(403);
    }
    const listed = await ask(server, `/api/labs/${id}`);
    expect(listed.text).not.toContain('linked');
    await rm(join(mine, 'text'), { recursive: true, force: true });
    await symlink(outside, join(mine, 'text'));
    const put = await ask(server, url('text/new.md'), {
      method: 'PUT',
      headers: { 'If-None-Match': '*' },
      body: Buffer.from('# out'),
    });
    expect(put.status).toBe(403);
    expect(await readdir(outside)).toEqual(['lab.yaml', 'secret.txt']);
    await rm(join(mine, 'text'));
  });

  it('is hidden where its name is', async () => {
    await write(mine, { '.git/config': 'not for anybody', '.secret': 'not for anybody' });
    expect((await ask(server, url('.git/config'))).status).toBe(403);
    expect((await ask(server, url('.secret'))).status).toBe(403);
    expect((await ask(server, `/api/labs/${id}`)).text).not.toContain('secret');
  });
});

describe('a published document', () => {
  it('is a page that can run nothing, or a file to keep', async () => {
    await write(mine, {
      'published/handout.html': '<script>alert(1)</script>',
      'published/guide.pdf': '%PDF-',
    });
    const page = await ask(server, `/api/labs/${id}/published/handout.html`);
    expect(page.headers['content-type']).toBe('text/html; charset=utf-8');
    expect(page.headers['content-security-policy']).toMatch(/^sandbox; default-src 'none'/);
    const kept = await ask(server, `/api/labs/${id}/published/guide.pdf?download`);
    expect(kept.headers).toMatchObject({
      'content-type': 'application/pdf',
      'content-disposition': "attachment; filename*=UTF-8''guide.pdf",
    });
  });

  it('is no way out either', async () => {
    for (const path of ['..%2flab.yaml', '..%2f..%2fbeside.txt', '%2e%2e/lab.yaml', 'none.pdf']) {
      expect((await ask(server, `/api/labs/${id}/published/${path}`)).status).toBeGreaterThanOrEqual(400);
    }
  });
});

describe('writing', () => {
  const put = (path: string, body: string | Uint8Array, headers: Record<string, string>) =>
    ask(server, url(path), { method: 'PUT', headers, body: Buffer.from(body) });

  it('takes the place of what the page thought was there, and of nothing else', async () => {
    const before = await readFile(join(mine, 'lab.yaml'));
    const first = await put('lab.yaml', 'title: first\n', { 'If-Match': `"${digest(before)}"` });
    expect([first.status, at(first.json, 'digest')]).toEqual([200, digest('title: first\n')]);
    const late = await put('lab.yaml', 'title: late\n', { 'If-Match': `"${digest(before)}"` });
    expect(late.status).toBe(412);
    expect(late.json).toMatchObject({
      digest: digest('title: first\n'),
      problems: [{ code: 'changed-meanwhile' }],
    });
    expect(await readFile(join(mine, 'lab.yaml'), 'utf8')).toBe('title: first\n');
    await writeFile(join(mine, 'lab.yaml'), before);
  });

  it('makes a file only where none is, and asks for a condition', async () => {
    const made = await put('text/handout.md', '# Handout\n', { 'If-None-Match': '*' });
    expect(made.status).toBe(200);
    expect((await put('text/handout.md', '# Again\n', { 'If-None-Match': '*' })).status).toBe(412);
    expect((await put('text/handout.md', '# Blind\n', {})).status).toBe(428);
    expect(await readFile(join(mine, 'text/handout.md'), 'utf8')).toBe('# Handout\n');
  });

  it('of twenty pages at once lets exactly one through', async () => {
    const before = await readFile(join(mine, 'text/handout.md'));
    const headers = { 'If-Match': `"${digest(before)}"` };
    const answers = await Promise.all(
      Array.from({ length: 20 }, (_, index) => put('text/handout.md', `# Page ${index}\n`, headers)),
    );
    const statuses = answers.map(({ status }) => status).sort();
    expect(statuses).toEqual([200, ...Array.from({ length: 19 }, () => 412)]);
    const through = answers.findIndex(({ status }) => status === 200);
    expect(await readFile(join(mine, 'text/handout.md'), 'utf8')).toBe(`# Page ${through}\n`);
    expect((await readdir(join(mine, 'text'))).filter((name) => name.startsWith('.'))).toEqual([]);
  });

  it('clears away what a killed program left half written, once nobody can be writing it', async () => {
    await write(mine, { 'text/.a.md.0123456789ab.new': 'half', 'text/.b.md.0123456789ab.new': 'half' });
    const longAgo = new Date(Date.now() - 3_600_000);
    await utimes(join(mine, 'text/.a.md.0123456789ab.new'), longAgo, longAgo);
    await put('text/other.md', '# Other\n', { 'If-None-Match': '*' });
    expect((await readdir(join(mine, 'text'))).filter((name) => name.startsWith('.'))).toEqual([
      '.b.md.0123456789ab.new',
    ]);
  });

  it('is only of the lab file, texts and references', async () => {
    for (const path of [
      'trials/new.csv',
      'README.md',
      'text/a.html',
      'text/deep/a.md',
      'references.exe',
      'other.yaml',
    ]) {
      expect([path, (await put(path, 'x', { 'If-None-Match': '*' })).status]).toEqual([path, 403]);
    }
  });

  it('takes UTF-8 only, up to 4 MB', async () => {
    const notText = await put('references.bib', new Uint8Array([0xff, 0xfe, 0xfa]), { 'If-None-Match': '*' });
    expect(at(notText.json, 'problems', 0, 'code')).toBe('not-utf-8');
    const large = await put('text/large.md', 'x'.repeat(4 * 2 ** 20 + 1), { 'If-None-Match': '*' });
    expect([large.status, at(large.json, 'problems', 0, 'code')]).toEqual([413, 'file-too-large']);
  });

  it('never reaches a lab that came with the program', async () => {
    const shelf = await ask(server, '/api/shelf');
    const labs = at(shelf.json, 'labs');
    const shipped = Array.isArray(labs) ? labs.find((lab) => at(lab, 'mine') === false) : null;
    const path = `/api/labs/${at(shipped, 'id')}`;
    const answer = await ask(server, `${path}/files/lab.yaml`, {
      method: 'PUT',
      headers: { 'If-Match': `"${at(shipped, 'digest')}"` },
      body: Buffer.from('title: changed\n'),
    });
    expect([answer.status, at(answer.json, 'problems', 0, 'code')]).toEqual([403, 'not-yours']);
    const trial = await ask(server, `${path}/trials?name=a.csv`, { method: 'POST', body: Buffer.from('x') });
    expect(at(trial.json, 'problems', 0, 'code')).toBe('not-yours');
  });

  it.skipIf(process.getuid?.() === 0)('says so where the folder can only be read', async () => {
    const before = await readFile(join(mine, 'lab.yaml'));
    await chmod(mine, 0o555);
    const answer = await put('lab.yaml', 'title: no\n', { 'If-Match': `"${digest(before)}"` });
    await chmod(mine, 0o755);
    expect([answer.status, at(answer.json, 'problems', 0, 'code')]).toEqual([403, 'not-writable']);
  });
});

describe('raw readings', () => {
  const send = (name: string, body: string) =>
    ask(server, `/api/labs/${id}/trials?name=${encodeURIComponent(name)}`, {
      method: 'POST',
      body: Buffer.from(body),
    });

  it('are kept as they came, and never written over', async () => {
    const first = await send('run.csv', 't (s)\n1\n');
    expect([first.status, first.json]).toEqual([
      201,
      { path: 'trials/run.csv', digest: digest('t (s)\n1\n') },
    ]);
    const other = await send('run.csv', 't (s)\n2\n');
    expect([other.status, at(other.json, 'path')]).toEqual([201, 'trials/run-2.csv']);
    const same = await send('elsewhere.csv', 't (s)\n1\n');
    expect([same.status, at(same.json, 'path')]).toEqual([200, 'trials/run.csv']);
    expect(await readFile(join(mine, 'trials/run.csv'), 'utf8')).toBe('t (s)\n1\n');
    expect(await readFile(join(mine, 'trials/run-2.csv'), 'utf8')).toBe('t (s)\n2\n');
  });

  it('come under a name that every system takes', async () => {
    const names: Record<string, unknown> = {};
    const given = [
      'a"b<c>|d?.csv',
      '  run 3 (best).csv ',
      '.hidden.csv',
      'Messung-\u00fc.csv',
      `${'l'.repeat(300)}.csv`,
    ];
    for (const [index, name] of given.entries())
      names[name] = at((await send(name, `x\n${index}\n`)).json, 'path');
    expect(Object.values(names)).toEqual([
      'trials/a-b-c--d-.csv',
      'trials/run 3 (best).csv',
      'trials/hidden.csv',
      'trials/Messung-\u00fc.csv',
      `trials/${'l'.repeat(120)}.csv`,
    ]);
  });

  it.each(['../out.csv', '..\\out.csv', 'a/b.csv', '/etc/x', 'nul\0.csv', '', '...', 'CON', 'com1.csv'])(
    'are refused under %j',
    async (name) => {
      const answer = await send(name, 'x\n9\n');
      expect([answer.status, at(answer.json, 'problems', 0, 'code')]).toEqual([422, 'name-not-safe']);
    },
  );

  it('of two pages at once are both kept', async () => {
    const sent = await Promise.all(
      Array.from({ length: 8 }, (_, index) => send('both.csv', `t (s)\n${index}0\n`)),
    );
    expect(new Set(sent.map(({ json }) => at(json, 'path'))).size).toBe(8);
  });

  it('of 100 MB are refused before they are read', async () => {
    const answer = await ask(server, `/api/labs/${id}/trials?name=big.csv`, {
      method: 'POST',
      headers: { 'Content-Type': 'application/octet-stream', 'Content-Length': String(100 * 2 ** 20) },
    }).catch(() => null);
    // The client never sends what it announced; that the answer comes at all shows that nothing was waited for.
    expect(answer?.status).toBe(413);
    expect(await readdir(join(mine, 'trials'))).not.toContain('big.csv');
  });

  it('do not follow a folder "trials" that leads out', async () => {
    await rm(join(mine, 'trials'), { recursive: true });
    await symlink(outside, join(mine, 'trials'));
    expect((await send('out.csv', 'x\n7\n')).status).toBe(403);
    expect(await readdir(outside)).toEqual(['lab.yaml', 'secret.txt']);
    await rm(join(mine, 'trials'));
    await mkdir(join(mine, 'trials'));
  });
});
