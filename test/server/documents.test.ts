import { readdir, readFile } from 'node:fs/promises';
import { request } from 'node:http';
import { join } from 'node:path';
import { unzipSync } from 'fflate';
import { describe, expect, it } from 'vitest';
import { ask, at, serve, write } from './talk.ts';

const { server, folder, mine, id } = await serve();

/** A relation that is read with a ruler: nothing takes long. */
const lab = `benchwright: 1
title: <b>A lens</b>
question: Where is the image?
quantities:
  f: { is: focal length, value: 100 mm, u: 1 mm }
model:
  relation: b = f*a/(a - f)
  over: { a: [150 mm, 200 mm, 300 mm, 400 mm, 600 mm] }
instruments:
  scale: { kind: ruler, of: b, division: 1 mm }
reduction:
  each run:
    - readings: { of: scale, gives: [a, b] }
    - line: { of: 1/b, against: 1/a, slope: s, intercept: p }
results:
  p: { is: power of the lens, unit: 1/m, theory: 1/f }
`;
await write(folder, { 'lens/lab.yaml': lab, 'broken/lab.yaml': lab.replace('1/b', '1/c') });
const shelf = await ask(server, '/api/shelf');
const idOf = (name: string): string => {
  const labs = at(shelf.json, 'labs');
  return String(
    Array.isArray(labs)
      ? at(
          labs.find((one) => at(one, 'folder') === name),
          'id',
        )
      : '',
  );
};
const lens = `/api/labs/${idOf('lens')}`;
const post = (path: string, body: object) =>
  ask(server, path, { method: 'POST', body: JSON.stringify(body) });
const linesOf = (text: string): readonly unknown[] =>
  text
    .split('\n')
    .filter((line) => line !== '')
    .map((line) => JSON.parse(line));

describe('publishing', () => {
  it('tells how far it is, and then which files there are', async () => {
    const answer = await post(`${lens}/publish`, { formats: ['html', 'code'], language: 'de' });
    expect(answer.headers['content-type']).toBe('application/x-ndjson; charset=utf-8');
    const lines = linesOf(answer.text);
    const last = lines.at(-1);
    expect(at(last, 'problems')).toBeUndefined();
    expect(lines.slice(0, -1).every((line) => typeof at(line, 'what') === 'string')).toBe(true);
    const files = at(last, 'files');
    if (!Array.isArray(files)) throw new Error('no files');
    expect(files.map((file) => at(file, 'path'))).toContain('teacher-guide.html');
    const [first] = files;
    const document = await ask(server, `${lens}/published/${at(first, 'path')}`);
    expect(document.headers.etag).toBe(`"${at(first, 'digest')}"`);
    expect(document.text).toContain('&lt;b&gt;A lens');
    expect(document.text).not.toContain('<b>A lens');
    const listed = await ask(server, `${lens}/published`);
    expect(listed.json).toMatchObject({ settings: { language: 'de', decimalMark: ',' }, changed: [] });
  });

  it('takes some of the documents, and takes the place of the set before', async () => {
    const answer = await post(`${lens}/publish`, { formats: ['html'], documents: ['teacher guide'] });
    expect(at(linesOf(answer.text).at(-1), 'files')).toEqual([
      expect.objectContaining({ path: 'teacher-guide.html' }),
    ]);
    expect((await readdir(join(folder, 'lens', 'published'))).sort()).toEqual([
      'published.json',
      'teacher-guide.html',
    ]);
  });

  it('says what is wrong with a lab in the last line, with its place', async () => {
    const answer = await post(`/api/labs/${idOf('broken')}/publish`, { formats: ['html'] });
    expect(linesOf(answer.text).at(-1)).toMatchObject({
      problems: [{ severity: 'error', at: expect.stringMatching(/^lab\.yaml:\d+:\d+$/) }],
    });
  });

  it('of a lab that came with the program writes nothing into it', async () => {
    const path = `/api/labs/${idOf('long-swing')}`;
    const shipped = new URL('../../labs/long-swing/', import.meta.url);
    const before = await readdir(shipped);
    const labText = (await readFile(new URL('lab.yaml', shipped), 'utf8')).replace(
      /^title: .*$/m,
      'title: A swing of ours',
    );
    const answer = await post(`${path}/publish`, {
      formats: ['html'],
      documents: ['equipment list'],
      labText,
    });
    expect(at(linesOf(answer.text).at(-1), 'problems')).toBeUndefined();
    const document = await ask(server, `${path}/published/equipment-list.html`);
    expect([document.status, document.text.includes('A swing of ours')]).toEqual([200, true]);
    expect(await readdir(shipped)).toEqual(before);
  });

  it('packs the text that the page has, not the one on the disk', async () => {
    const labText = lab.replace('A lens', 'A thin lens');
    await post(`${lens}/publish`, { formats: ['pack'], documents: ['equipment list'], labText });
    const pack = unzipSync(new Uint8Array(await readFile(join(folder, 'lens', 'published', 'pack.zip'))));
    const packed = Object.entries(pack).find(([name]) => name.endsWith('lab.yaml'))?.[1];
    expect(new TextDecoder().decode(packed)).toBe(labText);
  });

  it('is given up where nobody waits, and leaves what was there', async () => {
    const body = JSON.stringify({ formats: ['pack'] });
    await new Promise<void>((resolve) => {
      const headers = {
        Origin: `http://127.0.0.1:${server.port}`,
        'Content-Type': 'application/json',
        'Content-Length': String(body.length),
      };
      const sent = request(
        {
          host: '127.0.0.1',
          port: server.port,
          path: `/api/labs/${id}/publish`,
          method: 'POST',
          headers,
          agent: false,
        },
        (incoming) => {
          incoming.on('error', () => undefined);
          incoming.once('data', () => {
            sent.destroy();
            resolve();
          });
        },
      );
      sent.on('error', () => undefined);
      sent.end(body);
    });
    // The next order is begun once the one before has been given up.
    await post(`${lens}/preview`, { document: 'equipment list', format: 'html' });
    expect(await readdir(mine)).not.toContain('published');
    expect((await readdir(mine)).filter((name) => name.startsWith('.published'))).toEqual([]);
  });

  it('does not take a folder "published" that somebody else made', async () => {
    await write(folder, { 'broken/published/thesis.txt': 'years of work' });
    const answer = await post(`/api/labs/${idOf('broken')}/publish`, { formats: ['html'] });
    expect(at(linesOf(answer.text).at(-1), 'problems', 0, 'code')).toBe('already-there');
    expect(await readFile(join(folder, 'broken', 'published', 'thesis.txt'), 'utf8')).toBe('years of work');
  });

  it('is asked for in words that are known', async () => {
    for (const body of [{ formats: ['exe'] }, { language: 'xx' }, { extra: 1 }, { labText: 1 }]) {
      expect((await post(`${lens}/publish`, body)).status).toBe(400);
    }
  });
});

describe('a preview', () => {
  it('is one document of the text that the page has, and is not kept', async () => {
    const answer = await post(`${lens}/preview`, {
      document: 'handout',
      format: 'html',
      labText: lab.replace('A lens', 'Another lens'),
    });
    expect([answer.status, answer.headers['content-type']]).toEqual([200, 'text/html; charset=utf-8']);
    expect(answer.headers['content-security-policy']).toMatch(/^sandbox/);
    expect(answer.text).toContain('Another lens');
    expect(await readdir(join(folder, 'lens', 'published'))).not.toContain('handout.html');
  });

  it('is kept for a while under an address, which a frame of the app can show', async () => {
    const made = await post(`${lens}/preview`, { document: 'equipment list', format: 'html' });
    const shown = await ask(server, String(made.headers['content-location']));
    expect([shown.status, shown.text]).toEqual([200, made.text]);
    expect(shown.headers['content-security-policy']).toMatch(
      /^sandbox allow-same-origin; default-src 'none'.*frame-ancestors 'self'$/,
    );
    expect((await ask(server, `${lens}/previews/000000000000000000000000`)).status).toBe(404);
  });

  it('may be a PDF', async () => {
    const answer = await post(`${lens}/preview`, { document: 'equipment list', format: 'pdf' });
    expect([answer.headers['content-type'], answer.text.slice(0, 5)]).toEqual(['application/pdf', '%PDF-']);
  });

  it('says what is wrong', async () => {
    const none = await post(`${lens}/preview`, { document: 'poem', format: 'html' });
    expect([none.status, at(none.json, 'problems', 0, 'code')]).toEqual([404, 'no-such-document']);
    const broken = await post(`${lens}/preview`, {
      document: 'handout',
      format: 'html',
      labText: 'title: [',
    });
    expect(broken.status).toBe(422);
  });
});
