import { mkdir, readdir, readFile, writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { adaptLabText } from '../../src/files/index.ts';
import { copyLab, makeFolder, run, shippedLabs } from './run-in-memory.ts';

const folder = await makeFolder();
const labs = ['tow-chain', 'draped-chain', 'falling-chain', 'long-swing'];

describe('a new lab', () => {
  it.each(labs)('made from %s checks without a problem, and has no trials', async (from) => {
    const name = `my-${from}`;
    const made = await run(['new', name, '--from', from], { folder });
    expect([made.code, made.err]).toEqual([0, '']);
    // Readings, and what invented them, belong to the old lab; the author's words come along.
    const texts = (await readdir(join(shippedLabs, from))).filter((file) => file === 'text');
    expect((await readdir(join(folder, name))).sort()).toEqual(['lab.yaml', 'references.bib', ...texts]);
    const checked = await run(['check', name, '--json'], { folder });
    expect(checked.code, checked.err).toBe(0);
    expect(JSON.parse(checked.out)).toMatchObject({ trials: [], problems: [] });
  });

  it('keeps every other line as it was, comments and alignment too', async () => {
    const old = (await readFile(join(shippedLabs, 'tow-chain', 'lab.yaml'), 'utf8')).split('\n');
    const made = (await readFile(join(folder, 'my-tow-chain', 'lab.yaml'), 'utf8')).split('\n');
    const gone = old.filter((line) => !made.includes(line));
    expect(gone[0]).toBe('title: A trolley drawn by its own tow chain');
    expect(gone.slice(1).every((line) => /^(trials:| {2}- \{ name: | {6}note: )/.test(line))).toBe(true);
    const added = made.filter((line) => !old.includes(line));
    expect(added).toEqual([
      '# Made from "A trolley drawn by its own tow chain" (tow-chain, texts CC BY 4.0).',
      'title: My tow chain',
      'trials: []  # such as',
      expect.stringMatching(/^ {2}# - \{ name: short 1, .* \}$/),
    ]);
  });

  it('takes along texts and references, and leaves trials and programs behind', async () => {
    const lab = await copyLab('long-swing', folder, 'with-text');
    await mkdir(join(lab, 'text', 'deep'), { recursive: true });
    await writeFile(join(lab, 'text', 'deep', 'handout.md'), '# Handout\n');
    await writeFile(join(lab, 'notes.txt'), 'private');
    const { code } = await run(['new', 'copied', '--from', 'with-text'], { folder });
    expect(code).toBe(0);
    expect((await readdir(join(folder, 'copied'), { recursive: true })).sort()).toEqual(
      [
        'lab.yaml',
        'references.bib',
        'text',
        'text/deep',
        'text/deep/handout.md',
        'text/guide.md',
        'text/handout.md',
      ].map((name) => join(name)),
    );
  });

  it('never writes over a folder or file that is there', async () => {
    await writeFile(join(folder, 'taken'), 'mine');
    const { code, err } = await run(['new', 'taken', '--from', 'tow-chain'], { folder });
    expect([code, err]).toEqual([
      2,
      expect.stringContaining('"taken" is there already; nothing was written. Choose another name.'),
    ]);
    expect(await readFile(join(folder, 'taken'), 'utf8')).toBe('mine');
  });

  it.each(['../up', 'a/b', '.hidden', '', 'con', 'a b', 'x'.repeat(65), 'name.', '-x'])(
    'is not made under the name %j',
    async (name) => {
      const before = await readdir(folder);
      const { code } = await run(['new', '--from', 'tow-chain', '--', name], { folder });
      expect(code).toBe(2);
      expect(await readdir(folder)).toEqual(before);
    },
  );

  it('is not made from a lab with a problem', async () => {
    await mkdir(join(folder, 'broken'));
    await writeFile(join(folder, 'broken', 'lab.yaml'), 'benchwright: 1\n');
    const { code } = await run(['new', 'from-broken', '--from', 'broken'], { folder });
    expect(code).toBe(1);
    expect(await readdir(folder)).not.toContain('from-broken');
  });
});

describe('the text of a lab file made ready for a new lab', () => {
  it.each([
    [
      'a list in one line',
      'title: Old\ntrials: [ { file: a.csv }, { file: b.csv } ]\nplan: {}\n',
      '# - { file: a.csv }',
    ],
    [
      'a list in a block',
      'title: "Old"\ntrials:\n  - file: a.csv\n    reads: {}\n  - file: b.csv\nplan: {} # kept\n',
      '# - file: a.csv',
    ],
    [
      'the last key',
      'plan: {}\ntitle: >\n  Old\n  one\ntrials:\n  - { file: a.csv }\n',
      '# - { file: a.csv }',
    ],
    ['no trials', 'title: Old\nplan: {}\n', ''],
    ['an empty list', 'title: Old\ntrials: []\nplan: {}\n', ''],
  ])('with %s', (_name, text, example) => {
    const adapted = adaptLabText(text, 'New one', 'an old one');
    expect(adapted).toContain('title: New one\n');
    expect(adapted).toContain('plan: {}');
    expect(adapted).toContain(example);
    expect(adapted).not.toMatch(/^[^#]*b\.csv/m);
    expect(adapted).not.toContain('Old');
  });

  it('quotes a title that YAML would take for something else', () => {
    expect(adaptLabText('title: Old\n', '2024', 'x')).toContain('title: "2024"\n');
    expect(adaptLabText('title: Old\n', 'Yes', 'x')).toContain('title: "Yes"\n');
  });
});
