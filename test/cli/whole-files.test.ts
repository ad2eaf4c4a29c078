import { mkdir, readdir, readFile, writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { mendFolder, Stopped, writeWholeFolder } from '../../src/files/index.ts';
import { makeFolder } from './run-in-memory.ts';

const folder = await makeFolder();

describe('a folder is written whole or not at all', () => {
  it('holds every file, also in folders of its own, and nothing else', async () => {
    const path = join(folder, 'whole');
    await writeWholeFolder(path, [
      { name: 'a.txt', content: 'alpha' },
      { name: 'text/b.md', content: new Uint8Array([0x62]) },
    ]);
    expect((await readdir(path)).sort()).toEqual(['a.txt', 'text']);
    expect(await readFile(join(path, 'a.txt'), 'utf8')).toBe('alpha');
    expect(await readFile(join(path, 'text', 'b.md'), 'utf8')).toBe('b');
  });

  it('leaves nothing behind where a file cannot be written half-way', async () => {
    const before = await readdir(folder);
    // The second file of the same name is refused by the file system: a writer that fails after the first file.
    const files = [
      { name: 'same.csv', content: '1' },
      { name: 'same.csv', content: '2' },
    ];
    await expect(writeWholeFolder(join(folder, 'half'), files)).rejects.toThrow('EEXIST');
    expect(await readdir(folder)).toEqual(before);
  });

  it('leaves nothing behind where the user stops it between two files', async () => {
    const before = await readdir(folder);
    let looks = 0;
    const signal = {
      get aborted() {
        return ++looks > 1;
      },
    };
    const files = [
      { name: 'one.csv', content: '1' },
      { name: 'two.csv', content: '2' },
    ];
    await expect(writeWholeFolder(join(folder, 'stopped'), files, { signal })).rejects.toBeInstanceOf(
      Stopped,
    );
    expect(await readdir(folder)).toEqual(before);
  });

  it('keeps the old folder where the new one fails', async () => {
    const path = join(folder, 'kept');
    await mkdir(path);
    await writeFile(join(path, 'old.txt'), 'old');
    const files = [
      { name: 'new.txt', content: 'new' },
      { name: 'new.txt', content: 'again' },
    ];
    await expect(writeWholeFolder(path, files, { replace: true })).rejects.toThrow('EEXIST');
    expect(await readdir(path)).toEqual(['old.txt']);
  });

  it('puts a new folder in the place of an old one without a trace of it', async () => {
    const path = join(folder, 'replaced');
    await mkdir(path);
    await writeFile(join(path, 'old.txt'), 'old');
    const before = (await readdir(folder)).length;
    await writeWholeFolder(path, [{ name: 'new.txt', content: 'new' }], { replace: true });
    expect(await readdir(path)).toEqual(['new.txt']);
    expect(await readdir(folder)).toHaveLength(before);
  });

  it('is whole again after a run that was killed at any moment of putting the new one in its place', async () => {
    const at = async (state: string, paths: readonly string[]) => {
      const parent = await makeFolder();
      for (const path of paths) {
        await mkdir(join(parent, path));
        await writeFile(join(parent, path, 'which.txt'), path);
      }
      await mendFolder(join(parent, 'set'));
      return [
        state,
        (await readdir(parent)).sort(),
        await readFile(join(parent, 'set', 'which.txt'), 'utf8'),
      ];
    };
    const [building, aside] = ['.set.0123456789ab.new', '.set.fedcba987654.old'];
    expect(await at('while building', ['set', building])).toEqual([
      'while building',
      [building, 'set'],
      'set',
    ]);
    expect(await at('between the two', [building, aside])).toEqual([
      'between the two',
      [building, 'set'],
      aside,
    ]);
    expect(await at('before the last', ['set', aside])).toEqual(['before the last', ['set'], 'set']);
    const foreign = ['set', '.set.mine.old', '.settings.0123456789ab.old'];
    expect((await at('with files of others', foreign))[1]).toEqual([...foreign].sort());
  });
});
