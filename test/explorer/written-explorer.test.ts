import { createHash } from 'node:crypto';
import { existsSync, readdirSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { writeExplorer } from '../../src/publish/explorer/index.ts';
import { explorerOf, readTemplate } from './written-explorer.ts';

const flagship = await explorerOf('tow-chain');
const labs = readdirSync('labs', { withFileTypes: true })
  .filter((entry) => existsSync(`labs/${entry.name}/lab.yaml`))
  .map(({ name }) => name);

describe('the file of an explorer', () => {
  it('is smaller than 1.5 MB, for the flagship lab and all others of the gallery', async () => {
    expect(Buffer.byteLength(flagship)).toBeLessThan(1.5e6);
    for (const name of labs) expect(Buffer.byteLength(await explorerOf(name)), name).toBeLessThan(1.5e6);
  });

  it('refers to nothing outside itself, and its policy lets nothing be fetched', () => {
    const frame = flagship.replace(/(<script[^>]*>)[\s\S]*?(<\/script>)/g, '$1$2');
    expect(frame).not.toMatch(/\b(?:src|href|action|srcset)\s*=|url\(|@import|https?:/i);
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
    const template = '<title>@title@</title>@made-by@ @digest@<script id="lab-data">@lab@</script>';
    const title = '</title><script>';
    const files = [{ path: 'trials/a.bin', bytes, sha256: 'd' }];
    const html = writeExplorer(template, { title, text, files, digest: 'd', madeBy: 'B' });
    expect(html.match(/<\/script>/g)).toHaveLength(1);
    expect(html).toContain('<title>&lt;/title&gt;&lt;script&gt;</title>');
    const carried: unknown = JSON.parse(/<script id="lab-data">(.*)<\/script>/s.exec(html)?.[1] ?? '');
    expect(carried).toEqual({
      text,
      files: [{ path: 'trials/a.bin', digest: 'd', base64: Buffer.from(bytes).toString('base64') }],
      digest: 'd',
      madeBy: 'B',
    });
  });

  it('is the same, byte for byte, for the same lab', async () => {
    expect(await explorerOf('tow-chain')).toBe(flagship);
  });

  it('is not written into a template that has not each place once', async () => {
    const lab = { title: '', text: '', files: [], digest: '', madeBy: '' };
    const template = await readTemplate();
    expect(() => writeExplorer(`${template}@lab@`, lab)).toThrow(RangeError);
    expect(() => writeExplorer('<html></html>', lab)).toThrow(RangeError);
  });
});
