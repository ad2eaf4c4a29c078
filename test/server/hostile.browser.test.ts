import { readdir, readFile } from 'node:fs/promises';
import { createServer } from 'node:http';
import { join, resolve } from 'node:path';
import type { Browser, Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { readLab } from '../../src/lab/index.ts';
import { formatProblem } from '../../src/problem/index.ts';
import { howToGetBrowser, launchBrowser } from '../browser/find-browser.ts';
import { ask, at, serve, write } from './talk.ts';

/** What a stranger puts wherever text may stand: it tells on itself by setting a mark. */
const evil = `<img src=x onerror="window.owned=1"><script>window.owned=1</script>`;
const hostileName = `"><img src=x onerror=owned=1>'.csv`;

const { server, folder } = await serve({ appFolder: resolve('dist/app'), opened: null });
const lab = `benchwright: 1
title: ${JSON.stringify(`Evil ${evil}`)}
question: ${JSON.stringify(evil)}
about: ${JSON.stringify(`${evil} [press](javascript:window.owned=1)`)}
quantities:
  k: { is: ${JSON.stringify(evil)}, value: 2 1/s, u: 0.1 1/s, from: ${JSON.stringify(evil)} }
  w: { is: way, value: 1 m, u: 1 mm }
effects:
  ${JSON.stringify(evil)}: { is: ${JSON.stringify(evil)}, off: { w: 0.5 m } }
model:
  start: { x: 0 m }
  rates: { x: k*(w - x) }
  lasts: 3 s
derivation:
  - { line: "x' = k*(w - x)", because: ${JSON.stringify(evil)} }
instruments:
  ${JSON.stringify(evil)}: { kind: sampled, of: x, rate: 20 Hz, resolution: 1 mm }
reduction:
  each run:
    - readings: { of: ${JSON.stringify(evil)}, gives: [t, x] }
    - mean: { of: x, gives: m }
results:
  m: { is: ${JSON.stringify(evil)}, unit: m, theory: w }
trials:
  - { name: ${JSON.stringify(evil)}, file: ${JSON.stringify(`trials/${hostileName}`)}, reads: { ${JSON.stringify(evil)}: { t: "time (s)", value: ${JSON.stringify(`x (m)`)} } }, note: ${JSON.stringify(evil)} }
cautions: [${JSON.stringify(evil)}]
`;
await write(folder, {
  'evil/lab.yaml': lab,
  [`evil/trials/${hostileName}`]: `time (s),x (m),${evil}\n0,0,${evil}\n1,0.8,${evil}\n2,0.9,=cmd()\n`,
  'evil/text/handout.md': `# ${evil}\n\n[a](javascript:window.owned=1)\n\n${evil}\n`,
});
const shelf = await ask(server, '/api/shelf');
const labs = at(shelf.json, 'labs');
const id = String(at(Array.isArray(labs) ? labs.find((lab) => at(lab, 'folder') === 'evil') : null, 'id'));

let browser: Browser;
let page: Page;
const left: string[] = [];

beforeAll(async () => {
  const found = await launchBrowser();
  if (found === undefined) throw new Error(howToGetBrowser);
  browser = found;
  page = await browser.newPage({ viewport: { width: 1280, height: 800 }, reducedMotion: 'reduce' });
  page.on('request', (request) => {
    if (!/^(http:\/\/127\.0\.0\.1:\d+\/|blob:|data:)/.test(request.url())) left.push(request.url());
  });
});

afterAll(() => browser?.close());

const isOwned = (of: Page): Promise<boolean> => of.evaluate("Reflect.has(globalThis, 'owned')");

describe('a lab from a stranger, in a real browser', () => {
  it('is a lab without problems, so that every screen has something to show', () => {
    const read = readLab(lab, 'lab.yaml');
    expect(read.ok ? [] : read.problems.map(formatProblem)).toEqual([]);
  });

  it('shows as text on the shelf and on every screen, and runs nothing', async () => {
    await page.goto(server.address);
    await page.getByText('Evil <img src=x').first().waitFor();
    await page.getByRole('listitem').filter({ hasText: 'Evil' }).getByRole('link').first().click();
    await page.getByRole('navigation', { name: 'Stages of the work' }).waitFor();
    const stages = page.getByRole('navigation', { name: 'Stages of the work' }).getByRole('link');
    const count = await stages.count();
    expect(count).toBeGreaterThan(2);
    for (let index = 0; index < count; index++) {
      await stages.nth(index).click();
      await page.getByRole('heading', { level: 1 }).waitFor();
      // What is computed comes a little later than what is written.
      await page.waitForTimeout(800);
      expect(await page.locator('img[src="x"], a[href^="javascript:"]').count()).toBe(0);
      expect(await isOwned(page)).toBe(false);
    }
    // The ledger names effects, which are the stranger's words too.
    await page.locator('nav a[href$="/reconcile"]').click();
    await page.locator('.ledger[data-settled="true"]').first().waitFor({ timeout: 40_000 });
    expect(await page.getByText('onerror="window.owned=1"').count()).toBeGreaterThan(0);
    expect(await page.locator('img[src="x"], a[href^="javascript:"]').count()).toBe(0);
    expect([await isOwned(page), left]).toEqual([false, []]);
  });

  it('cannot be helped to run by the page: no script in the page, none from text', async () => {
    const done = await page.evaluate(`(() => {
      const script = document.createElement('script');
      script.textContent = 'globalThis.owned = 1';
      document.body.append(script);
      const button = document.createElement('button');
      button.setAttribute('onclick', 'globalThis.owned = 1');
      document.body.append(button);
      button.click();
      script.remove();
      button.remove();
      return Reflect.has(globalThis, 'owned');
    })()`);
    expect(done).toBe(false);
  });

  it('has its raw files shown as text or kept, and its documents without a script', async () => {
    const other = await browser.newPage();
    await other.goto(`${server.address}api/labs/${id}/files/lab.yaml`);
    expect(await other.evaluate('[document.contentType, document.scripts.length]')).toEqual([
      'text/plain',
      0,
    ]);
    await other.goto(`${server.address}api/labs/${id}/files/trials/${encodeURIComponent(hostileName)}`);
    expect(await other.evaluate('document.contentType')).toBe('text/plain');
    await write(folder, { 'evil/published/a.html': `<p>seen</p>${evil}` });
    await other.goto(`${server.address}api/labs/${id}/published/a.html`);
    await other.getByText('seen').waitFor();
    expect(await isOwned(other)).toBe(false);
    await other.close();
  });
});

/** What a page elsewhere would try: to read, to write, to send a form, to frame; it says what it could read. */
const attack = (ours: string, lab: string): string => `(async () => {
  const body = ${JSON.stringify(JSON.stringify({ from: lab, name: 'stolen' }))};
  const json = { 'Content-Type': 'application/json' };
  const file = '${ours}api/labs/${lab}/files/lab.yaml';
  const tries = [
    ['${ours}api/shelf', {}],
    ['${ours}api/shelf', { mode: 'no-cors' }],
    [file, { mode: 'no-cors' }],
    [file, { method: 'PUT', headers: { 'If-None-Match': '*' }, body: 'x' }],
    ['${ours}api/labs', { method: 'POST', mode: 'no-cors', body }],
    ['${ours}api/labs', { method: 'POST', headers: json, body }],
    ['${ours}api/labs/${lab}/trials?name=x.csv', { method: 'POST', mode: 'no-cors', body }],
  ];
  const read = [];
  for (const [address, options] of tries) {
    const text = await fetch(address, options).then((answer) => answer.text(), () => '');
    if (text !== '') read.push(address);
  }
  const form = Object.assign(document.createElement('form'), {
    method: 'POST', action: '${ours}api/labs', enctype: 'text/plain', target: 'inside',
  });
  form.append(Object.assign(document.createElement('input'), { name: body }));
  const frame = Object.assign(document.createElement('iframe'), { name: 'inside' });
  document.body.append(frame, form);
  form.submit();
  await new Promise((done) => setTimeout(done, 500));
  frame.src = '${ours}';
  await new Promise((done) => setTimeout(done, 1000));
  return read;
})()`;

describe('a page of another place, in the next tab', () => {
  it('reads nothing, changes nothing, and cannot frame the app', async () => {
    const own = createServer((_request, answer) => {
      answer.setHeader('Content-Type', 'text/html');
      answer.end('<!doctype html><title>elsewhere</title><body>');
    });
    await new Promise<void>((done) => own.listen(0, '127.0.0.1', done));
    const address = own.address();
    const port = typeof address === 'object' && address !== null ? address.port : 0;
    const before = [await readFile(join(folder, 'evil', 'lab.yaml'), 'utf8'), await readdir(folder)];
    const other = await browser.newPage();
    // "localhost" and "127.0.0.1" are two sites; another port of one name is one site and another origin.
    for (const host of [`http://127.0.0.1:${port}/`, `http://localhost:${port}/`]) {
      await other.goto(host);
      const got = await other.evaluate(attack(server.address, id));
      expect(got).toEqual([]);
      const framed = other.frames().find((frame) => frame !== other.mainFrame());
      const shown = await framed?.evaluate("document.body?.textContent ?? ''").catch(() => '');
      expect(shown).not.toMatch(/Evil|Stages/);
    }
    await other.close();
    own.close();
    expect([await readFile(join(folder, 'evil', 'lab.yaml'), 'utf8'), await readdir(folder)]).toEqual(before);
  });
});
