import { createHash } from 'node:crypto';
import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { writeExplorer } from '../../src/publish/explorer/index.ts';
import { explorerOf, readTemplate } from './written-explorer.ts';

const flagship = await explorerOf('tow-chain');
const german = await explorerOf('tow-chain', undefined, 'de');
const pages = { opening: '<p>made here</p>', papers: '' };
const nothing = { language: 'en', decimalMark: '.', pages, files: [], digest: 'd', madeBy: 'B' } as const;

describe('the file of an explorer', () => {
  it('is smaller than 1.5 MB for the flagship lab, in German too', async () => {
    expect(Buffer.byteLength(flagship)).toBeLessThan(1.5e6);
    expect(Buffer.byteLength(german)).toBeLessThan(1.5e6);
  });

  it('shows title, cautions with those computed, a figure and the handouts before any script has run', () => {
    const before = flagship.slice(0, flagship.indexOf('<script'));
    expect(before).toContain('<h1>A trolley drawn by its own tow chain</h1>');
    expect(before).toContain('What moves carries up to');
    expect(before).toContain('responsible, qualified staff');
    expect(before.match(/<svg[^>]*aria-labelledby="first-(?:light|dark)-/g)).toHaveLength(2);
    expect(before.indexOf('<svg')).toBeLessThan(before.indexOf('class="paper"'));
    const text = /## [^\n]*\n+([A-Z][^:\n]{30})/.exec(
      readFileSync('labs/tow-chain/text/handout.md', 'utf8'),
    )?.[1];
    expect(before).toContain(text);
  });

  it('has no identifier twice', () => {
    const ids = [...flagship.slice(0, flagship.indexOf('<script')).matchAll(/\sid="([^"]+)"/g)].map(
      ([, id]) => id,
    );
    expect(ids.length).toBeGreaterThan(20);
    expect(new Set(ids).size).toBe(ids.length);
  });

  it('speaks German where it was published in German, with the author’s German words', () => {
    expect(german).toContain('<html lang="de">');
    expect(german).toContain('Theorie, Modell und Messwerte');
    expect(german).toContain('Was sich bewegt, trägt');
    expect(german).toContain('Arbeitsblatt');
  });

  it('refers to nothing outside itself, and its policy lets nothing be fetched', () => {
    const frame = flagship.replace(/(<script[^>]*>)[\s\S]*?(<\/script>)/g, '$1$2');
    const outside = frame.replace(/ xmlns(?::\w+)?="[^"]*"| href="#[^"]*"/g, '');
    expect(outside).not.toMatch(/\b(?:src|href|action|srcset)\s*=|url\(|@import|https?:/i);
    const policy = /Content-Security-Policy" content="([^"]*)"/.exec(flagship)?.[1] ?? '';
    expect(policy).toMatch(/^default-src 'none';/);
    expect(policy).not.toMatch(/connect-src|https?:|\*|script-src[^;]*'unsafe-inline'|'unsafe-eval'/);
  });

  it('lets run only the script whose digest its policy names', () => {
    const program = /<script id="program">([\s\S]*?)<\/script>/.exec(flagship)?.[1] ?? '';
    expect(program.length).toBeGreaterThan(100_000);
    const digest = createHash('sha256').update(program, 'utf8').digest('base64');
    expect(flagship).toContain(`'sha256-${digest}'`);
  });

  it('carries the lab as it is written, whatever stands in it', () => {
    const text = 'title: "</script><!-- <script> $& @lab@ @title@"\n# läuft 🙂 \u2028\n';
    const bytes = new Uint8Array([0, 255, 60, 47]);
    const template =
      '<title>@title@</title>@language@@made-by@ @digest@@opening@@papers@@origin@<script id="lab-data">@lab@</script>';
    const title = '</title><script>';
    const files = [{ path: 'trials/a.bin', bytes, sha256: 'd' }];
    const html = writeExplorer(template, { ...nothing, title, text, files });
    expect(html.match(/<\/script>/g)).toHaveLength(1);
    expect(html).toContain('<title>&lt;/title&gt;&lt;script&gt;</title>');
    const carried: unknown = JSON.parse(/<script id="lab-data">(.*)<\/script>/s.exec(html)?.[1] ?? '');
    expect(carried).toEqual({
      text,
      files: [{ path: 'trials/a.bin', digest: 'd', base64: Buffer.from(bytes).toString('base64') }],
      language: 'en',
      decimalMark: '.',
    });
  });

  it('is the same, byte for byte, for the same lab', async () => {
    expect(await explorerOf('tow-chain')).toBe(flagship);
  });

  it('is not written into a template that has not each place once', async () => {
    const lab = { ...nothing, title: '', text: '' };
    const template = await readTemplate();
    expect(() => writeExplorer(`${template}@lab@`, lab)).toThrow(RangeError);
    expect(() => writeExplorer('<html></html>', lab)).toThrow(RangeError);
  });
});
