import { DOMParser } from '@xmldom/xmldom';
import { strFromU8, unzipSync } from 'fflate';
import { beforeAll, describe, expect, it } from 'vitest';
import { writeDocx } from '../../src/publish/docx/index.ts';
import { has, runOn } from './outside-tools.ts';
import { german, HOSTILE, hostileTree, SAMPLE_BLOCKS, sampleTree } from './sample-tree.ts';

function parts(docx: Uint8Array): ReadonlyMap<string, string> {
  return new Map(Object.entries(unzipSync(docx)).map(([name, bytes]) => [name, strFromU8(bytes)]));
}

function parse(xml: string) {
  const faults: string[] = [];
  const document = new DOMParser({
    onError: (level, message) => faults.push(`${level}: ${message}`),
  }).parseFromString(xml, 'application/xml');
  expect(faults).toEqual([]);
  return document;
}

function plainText(xml: string): string {
  return [...parse(xml).getElementsByTagName('w:t')].map((node) => node.textContent).join('');
}

describe('a document for a word processor', () => {
  let docx = new Uint8Array();
  let files: ReadonlyMap<string, string> = new Map();
  let body = '';
  beforeAll(async () => {
    docx = Uint8Array.from(await writeDocx(sampleTree()));
    files = parts(docx);
    body = files.get('word/document.xml') ?? '';
  });

  it('is well-formed in every part', () => {
    for (const [name, content] of files) if (/\.(xml|rels)$/.test(name)) parse(content);
    expect(body).not.toBe('');
  });

  it('holds native equations, those on their own line as mathematical paragraphs', () => {
    const document = parse(body);
    expect(document.getElementsByTagName('m:oMath').length).toBe(6);
    expect(document.getElementsByTagName('m:oMathPara').length).toBe(4);
    expect(document.getElementsByTagName('m:f').length).toBeGreaterThan(2);
    expect(document.getElementsByTagName('m:acc').length).toBe(2);
  });

  it('holds native tables whose head comes again on each page', () => {
    const document = parse(body);
    // The second is the frame of the cautions.
    expect(document.getElementsByTagName('w:tbl').length).toBe(2);
    expect(document.getElementsByTagName('w:tblHeader').length).toBe(1);
    expect(document.getElementsByTagName('w:tr').length).toBe(7);
  });

  it('holds the numbers of the tree', () => {
    const text = plainText(body).replaceAll('\u00a0', ' ');
    for (const part of ['(2.754 ± 0.019) 1/s²', '(96.40 ± 0.10) g', '15.0 cm', '−4.2', '1.62 m/s'])
      expect(text).toContain(part);
    expect(text).toContain('responsible, qualified staff decide');
  });

  it('names its headings, language, title and origin', () => {
    expect(body).toContain('w:val="Heading1"');
    expect(body).toContain('w:val="Heading2"');
    expect(files.get('word/styles.xml')).toContain('<w:lang w:val="en"');
    expect(files.get('docProps/core.xml')).toContain(
      '<dc:title>A trolley drawn by its own tow chain</dc:title>',
    );
    expect(files.get('docProps/custom.xml')).toContain(sampleTree().provenance.digest);
    expect([...files.keys()].filter((name) => /word\/(header|footer)\d/.test(name)).length).toBeGreaterThan(
      1,
    );
  });

  it('holds each figure as SVG with a raster beside it, and a text that stands for it', () => {
    expect([...files.keys()].filter((name) => name.endsWith('.svg'))).toHaveLength(1);
    expect([...files.keys()].filter((name) => name.endsWith('.png'))).toHaveLength(2);
    expect(body).toContain('Six readings rise in step');
    expect(body).toContain('The track with the wheel at its end.');
  });

  it('is the same, byte for byte, each time', async () => {
    const again = await writeDocx(sampleTree());
    expect(Buffer.from(again).equals(Buffer.from(docx))).toBe(true);
  });

  it('shows hostile text as text, with no field and no link of it', async () => {
    const hostile = parts(await writeDocx(hostileTree())).get('word/document.xml') ?? '';
    const text = plainText(hostile).replace(/\s+/g, ' ');
    for (const one of Object.values(HOSTILE).slice(0, 4)) expect(text).toContain(one.replace(/\s+/g, ' '));
    expect(hostile).not.toContain('w:instrText');
    expect(parse(hostile).getElementsByTagName('w:hyperlink').length).toBe(0);
  });

  it('speaks German where asked', async () => {
    const body = parts(await writeDocx(sampleTree(SAMPLE_BLOCKS, german))).get('word/document.xml') ?? '';
    expect(plainText(body)).toContain('2,754(19)');
    expect(plainText(body)).toContain('Vorsicht');
  });

  it.skipIf(!has('soffice'))('opens in an office suite (soffice)', () => {
    const run = runOn('soffice', 'a.docx', docx, ['--headless', '--convert-to', 'pdf', 'a.docx']);
    expect(run.files()).toContain('a.pdf');
  });
});
