import { DOMParser } from '@xmldom/xmldom';
import { describe, expect, it } from 'vitest';
import { writeHtml } from '../../src/publish/html/index.ts';
import { german, HOSTILE, hostileTree, SAMPLE_BLOCKS, sampleTree } from './sample-tree.ts';

function parse(html: string) {
  const faults: string[] = [];
  const parser = new DOMParser({ onError: (level, message) => faults.push(`${level}: ${message}`) });
  const document = parser.parseFromString(html, 'application/xhtml+xml');
  expect(faults).toEqual([]);
  return document;
}

function all(html: string, name: string) {
  return [...parse(html).getElementsByTagName(name)];
}

describe('a document as HTML', () => {
  const html = writeHtml(sampleTree());

  it('is well-formed', () => {
    expect(all(html, 'html')).toHaveLength(1);
  });

  it('says its language, title and where it came from', () => {
    expect(all(html, 'html')[0]?.getAttribute('lang')).toBe('en');
    expect(all(html, 'title')[0]?.textContent).toBe('A trolley drawn by its own tow chain');
    const metas = new Map(all(html, 'meta').map((m) => [m.getAttribute('name'), m.getAttribute('content')]));
    expect(metas.get('benchwright-digest')).toBe(sampleTree().provenance.digest);
    expect(metas.get('benchwright-source')).toBe(`trials/a1.csv ${'b'.repeat(64)}`);
  });

  it('needs nothing from outside and holds no script', () => {
    expect(all(html, 'script')).toEqual([]);
    const addresses = ['src', 'href'].flatMap((name) =>
      all(html, '*').flatMap((node) => node.getAttribute(name) ?? []),
    );
    expect(addresses.filter((address) => !/^(data:|#)/.test(address))).toEqual([
      'https://example.org/labs?a=1&b=2',
    ]);
  });

  it('has one title of the first level, and no level is left out below it', () => {
    const levels = all(html, '*')
      .map((node) => /^h([1-6])$/.exec(node.tagName)?.[1])
      .filter((level) => level !== undefined)
      .map(Number);
    expect(levels[0]).toBe(1);
    expect(levels.filter((level) => level === 1)).toHaveLength(1);
    for (const [index, level] of levels.entries())
      if (index > 0) expect(level).toBeLessThanOrEqual((levels[index - 1] ?? 0) + 1);
  });

  it('leads from the skip link to the text, and from each citation to its entry', () => {
    const ids = all(html, '*').flatMap((node) => node.getAttribute('id') ?? []);
    expect(new Set(ids).size).toBe(ids.length);
    for (const link of all(html, 'a')) {
      const target = link.getAttribute('href') ?? '';
      if (target.startsWith('#')) expect(ids).toContain(target.slice(1));
    }
  });

  it('names every column of a table and keeps rows to be filled in', () => {
    const table = all(html, 'table')[0];
    expect([...(table?.getElementsByTagName('th') ?? [])].map((th) => th.getAttribute('scope'))).toEqual([
      'col',
      'col',
      'col',
    ]);
    expect([...(table?.getElementsByTagName('tr') ?? [])]).toHaveLength(6);
  });

  it('writes formulas as MathML and figures as SVG with a text that stands for them', () => {
    expect(all(html, 'math').length).toBe(6);
    const svg = all(html, 'svg')[0];
    expect(svg?.getElementsByTagName('desc')[0]?.textContent).toContain('Six readings rise in step');
    expect(all(html, 'img')[0]?.getAttribute('alt')).toBe('The track with the wheel at its end.');
  });

  it('prints numbers as the settings say', () => {
    expect(html).toContain('(2.754 ± 0.019) s⁻¹'.slice(0, 15).replaceAll(' ', '\u00a0'));
    expect(writeHtml(sampleTree(SAMPLE_BLOCKS, german))).toContain('2,754(19)');
  });

  it('keeps the caution and its closing sentence', () => {
    expect(html).toContain('class="caution"');
    expect(html).toContain('responsible, qualified staff decide');
  });

  it('shows hostile text as text', () => {
    const hostile = writeHtml(hostileTree());
    expect(all(hostile, 'script')).toEqual([]);
    expect(all(hostile, 'img')).toEqual([]);
    expect(all(hostile, 'a').filter((a) => (a.getAttribute('href') ?? '').startsWith('javascript'))).toEqual(
      [],
    );
    const text = all(hostile, 'main')[0]?.textContent ?? '';
    for (const one of Object.values(HOSTILE)) expect(text).toContain(one);
  });

  it('is the same, byte for byte, each time', () => {
    expect(writeHtml(sampleTree())).toBe(html);
  });
});
