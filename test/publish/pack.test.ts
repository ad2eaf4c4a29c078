import { strFromU8, strToU8, unzipSync } from 'fflate';
import { describe, expect, it } from 'vitest';
import { parse } from 'yaml';
import { digestOf } from '../../src/publish/document/index.ts';
import { FORMATS } from '../../src/publish/formats.ts';
import { type PackContents, type PackedFile, writePack } from '../../src/publish/pack/index.ts';
import { HOSTILE, sampleTree } from './sample-tree.ts';

function file(path: string, text: string): PackedFile {
  return { path, bytes: strToU8(text), sha256: digestOf(text) };
}

const CONTENTS: PackContents = {
  tree: sampleTree(),
  documents: new Map<string, Uint8Array | string>([
    ['handout.html', '<html></html>'],
    ['handout.pdf', new Uint8Array([37, 80, 68, 70])],
  ]),
  files: [file('lab.yaml', 'benchwright: 1\n'), file('trials/a1.csv', 't (s)\n0.1\n')],
  trials: [{ name: 'a 1', file: 'trials/a1.csv', columns: [{ heading: 't (s)', values: [0.1] }] }],
};

describe('a pack', () => {
  const files = unzipSync(writePack(CONTENTS));

  it('holds the documents, the lab folder, descriptor, licence and citation', () => {
    expect(Object.keys(files)).toEqual([
      'CITATION.cff',
      'LICENCE',
      'documents/handout.html',
      'documents/handout.pdf',
      'lab/datapackage.json',
      'lab/lab.yaml',
      'lab/trials/a1.csv',
    ]);
    expect(strFromU8(files['lab/trials/a1.csv'] ?? new Uint8Array())).toBe('t (s)\n0.1\n');
  });

  it('describes its data as the Data Package standard asks', () => {
    const descriptor = JSON.parse(strFromU8(files['lab/datapackage.json'] ?? new Uint8Array()));
    expect(descriptor.$schema).toBe('https://datapackage.org/profiles/2.0/datapackage.json');
    expect(descriptor.name).toMatch(/^[a-z0-9._-]+$/);
    expect(descriptor.resources).toHaveLength(2);
    const [, trial] = descriptor.resources;
    // Required of every resource: a name of its own, and path or data; the path relative and within the folder.
    expect(trial).toMatchObject({ path: 'trials/a1.csv', bytes: 10, format: 'csv', mediatype: 'text/csv' });
    expect(trial.hash).toBe(`sha256:${digestOf('t (s)\n0.1\n')}`);
    expect(new Set(descriptor.resources.map(({ name }: { name: string }) => name)).size).toBe(2);
    expect(descriptor.licenses).toEqual([{ name: 'CC-BY-4.0' }]);
    expect(descriptor.benchwright.digest).toBe(CONTENTS.tree.provenance.digest);
  });

  it('has a citation file that reads as YAML, also for hostile titles', () => {
    for (const title of [CONTENTS.tree.title, HOSTILE.markup, HOSTILE.python, ': - # "']) {
      const packed = unzipSync(writePack({ ...CONTENTS, tree: { ...CONTENTS.tree, title } }));
      const citation = parse(strFromU8(packed['CITATION.cff'] ?? new Uint8Array()));
      expect(citation).toMatchObject({ 'cff-version': '1.2.0', title, license: 'CC-BY-4.0' });
      expect(citation.authors).toHaveLength(1);
    }
  });

  it('is the same, byte for byte, whatever the order of its contents', () => {
    const turned = { ...CONTENTS, documents: new Map([...CONTENTS.documents].reverse()) };
    expect(Buffer.from(writePack(turned)).equals(Buffer.from(writePack(CONTENTS)))).toBe(true);
  });

  it('takes no file from outside the folder', () => {
    for (const path of ['../x', '/etc/passwd', 'a/../../b', 'C:\\x', ''])
      expect(() => writePack({ ...CONTENTS, files: [file(path, 'x')] })).toThrow(RangeError);
  });
});

describe('the registry of formats', () => {
  it('names each format once, and gives every kind of document at least one', () => {
    expect(new Set(FORMATS.map(({ name }) => name)).size).toBe(FORMATS.length);
    expect(new Set(FORMATS.flatMap(({ kinds }) => kinds)).size).toBe(7);
  });

  it('writes every format from one tree', async () => {
    for (const { write } of FORMATS) {
      const content = await write(sampleTree(), { stepwise: null, trials: [], lines: [] });
      expect(content.length).toBeGreaterThan(100);
    }
  });
});
