import { appendFile, readdir, readFile, writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { copyLab, makeFolder, run } from './run-in-memory.ts';

const oneFormat = ['--format', 'html'];

describe('publish', () => {
  it('writes every document, and --check finds them up to date until a source or a document changes', async () => {
    const folder = await makeFolder();
    const lab = await copyLab('draped-chain', folder, 'lab');
    const out = join(folder, 'set');
    const published = await run(['publish', lab, '--out', out, ...oneFormat, '--json']);
    expect(published.code).toBe(0);
    const { files } = JSON.parse(published.out);
    expect(files).toContain('teacher-guide.html');
    expect((await readdir(out)).sort()).toEqual([...files, 'published.json'].sort());
    expect((await run(['publish', lab, '--out', out, '--check'])).code).toBe(0);

    await appendFile(join(out, 'teacher-guide.html'), 'by hand');
    const byHand = await run(['publish', lab, '--out', out, '--check', '--json']);
    expect(byHand.code).toBe(1);
    expect(JSON.parse(byHand.out).stale).toEqual(['teacher-guide.html']);

    await appendFile(join(lab, 'lab.yaml'), '\n# a remark\n');
    const stale = await run(['publish', lab, '--out', out, '--check', '--json']);
    expect(JSON.parse(stale.out).changed_sources).toEqual(['lab.yaml']);
    expect(JSON.parse(stale.out).stale).toEqual(files);
  }, 120_000);

  it('leaves the previous set whole where a run fails', async () => {
    const folder = await makeFolder();
    const lab = await copyLab('draped-chain', folder, 'lab');
    const out = join(folder, 'set');
    expect((await run(['publish', lab, '--out', out, ...oneFormat])).code).toBe(0);
    const before = await readFile(join(out, 'published.json'), 'utf8');
    await writeFile(
      join(lab, 'lab.yaml'),
      'benchwright: 1\ntitle: broken\nquantities: { L: { value: 1 parsnip } }\n',
    );
    expect((await run(['publish', lab, '--out', out, ...oneFormat])).code).toBe(1);
    expect(await readFile(join(out, 'published.json'), 'utf8')).toBe(before);
    expect(await readdir(folder)).toEqual(['lab', 'set']);
  }, 120_000);

  it('does not replace a folder that is not its own', async () => {
    const folder = await makeFolder();
    await writeFile(join(folder, 'mine.txt'), 'mine');
    const refused = await run(['publish', 'draped-chain', '--out', folder, ...oneFormat]);
    expect(refused.code).toBe(2);
    expect(refused.err).toContain('holds no published set of this program');
    expect(await readFile(join(folder, 'mine.txt'), 'utf8')).toBe('mine');
  });
});
