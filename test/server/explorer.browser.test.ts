import { readFile } from 'node:fs/promises';
import { join, resolve } from 'node:path';
import type { Browser, Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { howToGetBrowser, launchBrowser } from '../browser/find-browser.ts';
import { ask, at, serve, write } from './talk.ts';

const { server, folder } = await serve({ appFolder: resolve('dist/app'), opened: null });
await write(folder, { 'own/lab.yaml': await readFile('labs/tired-cells/lab.yaml', 'utf8') });
const shelf = at((await ask(server, '/api/shelf')).json, 'labs');
const own = Array.isArray(shelf) ? shelf.find((lab) => at(lab, 'folder') === 'own') : null;
const path = `/api/labs/${String(at(own, 'id'))}`;
const address = `http://127.0.0.1:${server.port}${path}/published/explorer.html`;
const published = join(folder, 'own', 'published', 'explorer.html');

let browser: Browser;
const errors: string[] = [];

beforeAll(async () => {
  const text = (await readFile('labs/tired-cells/lab.yaml', 'utf8')).replace(
    /^trials:\n(?:[ #].*\n|\n)*/m,
    '',
  );
  await write(folder, { 'own/lab.yaml': text });
  const body = JSON.stringify({ formats: ['explorer'] });
  const made = await ask(server, `${path}/publish`, { method: 'POST', body });
  expect(made.text).toContain('explorer.html');
  const found = await launchBrowser();
  if (found === undefined) throw new Error(howToGetBrowser);
  browser = found;
}, 120_000);

afterAll(() => browser?.close());

async function open(): Promise<Page> {
  const page = await browser.newPage({ viewport: { width: 1280, height: 800 } });
  page.on('pageerror', (error) => errors.push(String(error)));
  await page.goto(address);
  return page;
}

describe('a published explorer that the server sends', () => {
  it('runs, in an origin of its own that reaches nothing of the server', async () => {
    const page = await open();
    await page.locator('#ledgers[data-settled="true"] table').first().waitFor({ timeout: 30_000 });
    expect(await page.evaluate('self.origin')).toBe('null');
    expect(
      await page.evaluate(`fetch(${JSON.stringify('/api/shelf')}).then(() => 'reached', () => 'refused')`),
    ).toBe('refused');
    expect(errors).toEqual([]);
    await page.close();
  }, 60_000);

  it('runs nothing that a stranger put in its place, and still shows what it says', async () => {
    const html = await readFile(published, 'utf8');
    const evil = html
      .replace(/<meta http-equiv[^>]*>/, '')
      .replace('<script id="program">', '<script>document.title = "taken"</script><script id="program">0;');
    await write(folder, { 'own/published/explorer.html': evil });
    const page = await open();
    await page.locator('#waiting').waitFor();
    expect(await page.title()).not.toBe('taken');
    expect(await page.locator('#waiting').textContent()).toContain('save the file and open it in a browser');
    await page.close();
  });
});
