import { strFromU8, strToU8, unzipSync } from 'fflate';
import { describe, expect, it } from 'vitest';
import { parse } from 'yaml';
import { digestOf } from '../../src/publish/document/index.ts';
import { FORMATS } from '../../src/publish/formats.ts';
import { type PackContents, type PackedFile, writePack } from '../../src/publish/pack/index.ts';
import { parseUnit } from '../../src/quantity/index.ts';
import { citationForm } from '../published/citation-file-format-1.2.ts';
import { dataPackageForm } from '../published/data-package-2.ts';
import { take } from './draft/gathered-lab.ts';
import { HOSTILE, sampleTree } from './sample-tree.ts';

function file(path: string, text: string): PackedFile {
  return { path, bytes: strToU8(text), sha256: digestOf(text) };
}

const { title, licence, provenance } = sampleTree();

const CONTENTS: PackContents = {
  lab: { title, about: 'Does it gain speed?', licence, provenance },
  documents: new Map<string, Uint8Array | string>([
    ['handout.html', '<html></html>'],
    ['handout.pdf', new Uint8Array([37, 80, 68, 70])],
  ]),
  files: [file('lab.yaml', 'benchwright: 1\n'), file('trials/a1.csv', 't (s);x\n0,1;2\n')],
  trials: [
    {
      name: 'a 1',
      file: 'trials/a1.csv',
      columns: [
        { heading: 't (s)', unit: take(parseUnit('s')), values: [0.1, 0.1 + 0.2] },
        { heading: 'x', unit: null, values: [2, Number.NaN] },
        { heading: 'x', unit: null, values: [1] },
      ],
    },
    { name: 'läuft, gut', file: 'trials/a1.csv', columns: [{ heading: '', values: [] }] },
  ],
};

function filesOf(contents: PackContents): ReadonlyMap<string, string> {
  return new Map(
    Object.entries(unzipSync(writePack(contents))).map(([name, bytes]) => [name, strFromU8(bytes)]),
  );
}

describe('a pack', () => {
  const files = filesOf(CONTENTS);

  it('holds the documents, the lab folder, the trials as tables, descriptor, licence and citation', () => {
    expect([...files.keys()]).toEqual([
      'CITATION.cff',
      'LICENCE',
      'data/01-a-1.csv',
      'data/02-la-uft-gut.csv',
      'datapackage.json',
      'documents/handout.html',
      'documents/handout.pdf',
      'lab/lab.yaml',
      'lab/trials/a1.csv',
    ]);
    expect(files.get('lab/trials/a1.csv')).toBe('t (s);x\n0,1;2\n');
  });

  it('holds what was read of a trial with fifteen digits, blank where the raw file is, headings never twice', () => {
    expect(files.get('data/01-a-1.csv')).toBe('t (s),x,x 2\r\n0.1,2,1\r\n0.3,,\r\n');
  });

  it('describes its data as the Data Package standard asks', () => {
    const descriptor = dataPackageForm.parse(JSON.parse(files.get('datapackage.json') ?? ''));
    expect(descriptor.resources.map(({ path }) => path)).toEqual([
      'lab/lab.yaml',
      'lab/trials/a1.csv',
      'data/01-a-1.csv',
      'data/02-la-uft-gut.csv',
    ]);
    for (const { path, bytes, hash } of descriptor.resources) {
      const content = files.get(path) ?? '';
      expect(bytes).toBe(strToU8(content).length);
      expect(hash).toBe(`sha256:${digestOf(content)}`);
    }
    expect(descriptor.resources[1]).toMatchObject({ format: 'csv', mediatype: 'text/csv' });
    expect(descriptor.resources[2]).toMatchObject({
      type: 'table',
      schema: {
        fields: [
          { name: 't (s)', type: 'number', unit: 's' },
          { name: 'x', type: 'number' },
          { name: 'x 2', type: 'number' },
        ],
      },
    });
    expect(descriptor.licenses).toEqual([{ name: 'CC-BY-4.0' }]);
    expect(descriptor.benchwright).toMatchObject({ digest: provenance.digest });
  });

  it('has descriptor and citation of the right form, also for hostile words, and none where there are none', () => {
    for (const words of [title, HOSTILE.markup, HOSTILE.python, ': - # "', '\u0000\u202e']) {
      const lab = { ...CONTENTS.lab, title: words, about: words, licence: words };
      const packed = filesOf({ ...CONTENTS, lab });
      dataPackageForm.parse(JSON.parse(packed.get('datapackage.json') ?? ''));
      const citation = citationForm.safeParse(parse(packed.get('CITATION.cff') ?? ''));
      expect(citation.success || words === '\u0000\u202e').toBe(true);
    }
    const bare = filesOf({ ...CONTENTS, lab: { ...CONTENTS.lab, about: '', licence: '' } });
    expect(citationForm.parse(parse(bare.get('CITATION.cff') ?? ''))).not.toHaveProperty('abstract');
    expect(dataPackageForm.parse(JSON.parse(bare.get('datapackage.json') ?? ''))).not.toHaveProperty(
      'licenses',
    );
    expect(citationForm.parse(parse(files.get('CITATION.cff') ?? ''))).toMatchObject({
      title,
      abstract: 'Does it gain speed?',
      license: 'CC-BY-4.0',
    });
  });

  it('is the same, byte for byte, whatever the order of its documents', () => {
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
      const content = await write(sampleTree(), { stepwise: null, trials: [], lines: [], stations: [] });
      expect(content.length).toBeGreaterThan(100);
    }
  });
});
