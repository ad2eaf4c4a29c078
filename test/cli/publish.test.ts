import { appendFile, mkdir, readdir, readFile, writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import { strFromU8, unzipSync } from 'fflate';
import { describe, expect, it } from 'vitest';
import { parse } from 'yaml';
import { digestOf } from '../../src/publish/index.ts';
import { citationForm } from '../published/citation-file-format-1.2.ts';
import { dataPackageForm } from '../published/data-package-2.ts';
import { copyLab, makeFolder, run, shippedLabs } from './run-in-memory.ts';

const oneFormat = ['--format', 'html'];

describe('publish', () => {
  it('packs all documents in all formats, the lab folder and its data, the same bytes each time', async () => {
    const folder = await makeFolder();
    const packs = [];
    for (const name of ['one', 'two']) {
      const out = join(folder, name);
      const packed = await run([
        'publish',
        'draped-chain',
        '--out',
        out,
        '--format',
        'pack',
        'html',
        '--json',
      ]);
      expect([packed.code, packed.err]).toEqual([0, '']);
      expect(JSON.parse(packed.out).files).toContain('pack.zip');
      packs.push(await readFile(join(out, 'pack.zip')));
    }
    expect(packs[0]?.equals(packs[1] ?? new Uint8Array())).toBe(true);
    const files = unzipSync(packs[0] ?? new Uint8Array());
    const lab = (path: string) => readFile(join(shippedLabs, 'draped-chain', path));
    for (const path of ['lab.yaml', 'README.md', 'references.bib', 'trials/draped-1-2.csv'])
      expect(files[`lab/${path}`]).toEqual(new Uint8Array(await lab(path)));
    expect(Object.keys(files).filter((path) => path.startsWith('data/'))).toHaveLength(6);
    for (const name of [
      ...['html', 'pdf', 'docx'].map((ending) => `teacher-guide.${ending}`),
      ...['talk.pdf', 'talk.html', 'model.py', 'model.xlsx', 'handout-calculus.docx', 'explorer.html'],
    ])
      expect(Object.keys(files)).toContain(`documents/${name}`);
    expect(strFromU8(files.LICENCE ?? new Uint8Array())).toContain('CC-BY-4.0');
    citationForm.parse(parse(strFromU8(files['CITATION.cff'] ?? new Uint8Array())));
    const descriptor = dataPackageForm.parse(
      JSON.parse(strFromU8(files['datapackage.json'] ?? new Uint8Array())),
    );
    for (const { path, bytes, hash } of descriptor.resources) {
      expect(files[path]?.length).toBe(bytes);
      expect(hash).toBe(`sha256:${digestOf(files[path] ?? new Uint8Array())}`);
    }
  }, 120_000);

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

  it('tells every fault of a text at its place, writes nothing and runs nothing', async () => {
    const folder = await makeFolder();
    const lab = await copyLab('draped-chain', folder, 'lab');
    await mkdir(join(lab, 'text'), { recursive: true });
    const text = [
      '## Aim',
      'It is :value[no_such], <script>alert(1)</script>.',
      '',
      '::figur{of=ledger}',
      '',
      '![secret](../../secret.png)',
      '',
    ];
    await writeFile(join(lab, 'text', 'handout.md'), text.join('\n'));
    const refused = await run(['publish', 'lab', '--out', 'set', ...oneFormat], { folder });
    expect(refused.code).not.toBe(0);
    for (const place of ['2:7', '2:24', '4:1', '6:1'])
      expect(refused.err).toContain(`lab/text/handout.md:${place}`);
    expect(await readdir(folder)).toEqual(['lab']);
  }, 120_000);

  it('speaks the language of the lab file where its words are given, and finds them stale when they change', async () => {
    const folder = await makeFolder();
    const lab = await copyLab('tow-chain', folder, 'lab');
    const out = join(folder, 'set');
    const args = ['publish', lab, '--out', out, ...oneFormat];
    expect((await run([...args, '--language', 'de'])).code).toBe(0);
    const page = await readFile(join(out, 'handout-steps.html'), 'utf8');
    expect(page).toContain('<html lang="de"');
    expect(page).toContain('Ein Wagen, von seiner eigenen Kette gezogen');
    expect(page).not.toContain('lang="en"');
    expect((await run([...args, '--check'])).code).toBe(0);
    await appendFile(join(lab, 'text', 'words.de.yaml'), '# a remark\n');
    const stale = await run([...args, '--check', '--json']);
    expect(JSON.parse(stale.out).changed_sources).toEqual(['text/words.de.yaml']);
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
