import { mkdtemp, readFile, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join, resolve } from 'node:path';
import type { Browser, Page } from 'playwright-core';
import { afterAll, afterEach, beforeAll, describe, expect, it } from 'vitest';
import { type RunningServer, startServer } from '../../src/server/index.ts';
import { howToGetBrowser, launchBrowser } from '../browser/find-browser.ts';

/** The main job from end to end, as one person does it: each step goes on where the one before it ended. */
let folder: string;
let server: RunningServer;
let browser: Browser;
let page: Page;
const errors: string[] = [];

beforeAll(async () => {
  folder = await mkdtemp(join(tmpdir(), 'job-'));
  const found = await launchBrowser();
  if (found === undefined) throw new Error(howToGetBrowser);
  browser = found;
  const started = await startServer({
    opened: null,
    folder,
    shippedLabs: resolve('labs'),
    appFolder: resolve('dist/app'),
    documentThread: null,
    version: '0',
    port: 0,
  });
  if (!started.ok) throw new Error(started.problems[0]?.message);
  server = started.value;
  page = await browser.newPage({ viewport: { width: 1280, height: 900 }, reducedMotion: 'reduce' });
  page.setDefaultTimeout(30_000);
  page.on('pageerror', (error) => errors.push(String(error)));
});

afterAll(async () => {
  await browser?.close();
  await server?.close();
  await rm(folder, { recursive: true, force: true });
});

afterEach(() => {
  expect(errors).toEqual([]);
});

const fileOfLab = (path: string): Promise<string> => readFile(join(folder, 'my-tow-chain', path), 'utf8');

const goToStage = async (name: string): Promise<void> => {
  await page.getByRole('navigation', { name: 'Stages of the work' }).getByText(name, { exact: true }).click();
  await page.getByRole('heading', { level: 1, name }).waitFor();
};

/** A run with the middle chain, as another program wrote it: on an old system, for a German office. */
async function untidyFile(): Promise<Buffer> {
  const lines = (await readFile('labs/tow-chain/trials/chain-120-c.csv', 'utf8')).split(/\r?\n/);
  const times = lines.map(Number).filter((time) => time > 0);
  const rows = times.map((time, index) => {
    const milliseconds = (1000 * time + (index % 2 === 0 ? 0.02 : -0.02)).toFixed(2);
    return `${index + 1};${milliseconds.replace('.', ',')};${index === 0 ? 'los' : ''}`;
  });
  const text = ['Gerät 7: Ausgabe', '', 'Nr.;Flanke [ms];Bemerkung', ...rows, ''].join('\r\n');
  return Buffer.from(text, 'latin1');
}

/** Lets files fall on to the page, as from a window of the desktop. */
async function drop(name: string, bytes: Buffer): Promise<void> {
  await page.evaluate(
    `{
      const files = new DataTransfer();
      const bytes = Uint8Array.from(atob('${bytes.toString('base64')}'), (sign) => sign.charCodeAt(0));
      files.items.add(new File([bytes], '${name}'));
      for (const type of ['dragover', 'drop'])
        document.body.dispatchEvent(new DragEvent(type, { dataTransfer: files, bubbles: true, cancelable: true }));
    }`,
  );
}

describe('the main job, in a browser', () => {
  it('begins with the flagship: a quantity is changed, and a copy is kept with the change', async () => {
    await page.goto(server.address);
    await page.getByRole('link', { name: 'A trolley drawn by its own tow chain' }).click();
    await page.getByRole('heading', { level: 1, name: 'The question' }).waitFor();
    await goToStage('The apparatus');
    const field = page.getByRole('textbox', { name: 'value of m_t' });
    await field.fill('262.0 g');
    await field.press('Enter');
    await page.getByRole('button', { name: 'Keep a copy', exact: true }).click();
    await expect.poll(() => fileOfLab('lab.yaml').catch(() => ''), { timeout: 20_000 }).toContain('262.0 g');
    await page.getByText('in the file', { exact: true }).waitFor();
  }, 90_000);

  it('goes on with a file of another program: it is recognised, becomes a run, and stays to the byte as it came', async () => {
    await goToStage('Trials');
    await page.getByText('Drop files of readings').waitFor();
    const bytes = await untidyFile();
    await drop('versuch 4.csv', bytes);
    const file = page.getByRole('article', { name: 'trials/versuch 4.csv' });
    await file.getByText(/windows-1252 with semicolons between the columns and a decimal comma/).waitFor();
    expect(await file.getByRole('combobox', { name: 'wheel gate: edge' }).inputValue()).toBe('Flanke [ms]');
    await file.getByRole('textbox', { name: 'L when it was taken' }).fill('1.2 m');
    await file.getByRole('button', { name: 'Use it as a run' }).click();
    await expect.poll(() => fileOfLab('lab.yaml'), { timeout: 20_000 }).toContain('trials/versuch 4.csv');
    expect(await readFile(join(folder, 'my-tow-chain/trials/versuch 4.csv'))).toEqual(bytes);
  }, 90_000);

  it('marks on the figure what counts of it, and the run and the ledger follow', async () => {
    const run = page.getByRole('listitem').filter({ has: page.getByRole('button', { name: /^versuch 4/ }) });
    const plot = run.locator('.figure-plot');
    await plot.locator('svg').waitFor();
    await plot.scrollIntoViewIfNeeded();
    const box = await plot.boundingBox();
    if (box === null) throw new Error('no figure');
    const y = box.y + box.height / 4;
    await page.mouse.move(box.x + 0.03 * box.width, y);
    await page.mouse.down();
    await page.mouse.move(box.x + 0.5 * box.width, y);
    await page.mouse.move(box.x + 0.9 * box.width, y);
    await page.mouse.up();
    await run.getByText(/readings count; 0 before and \d+ behind it are set aside/).waitFor();
    await expect.poll(() => fileOfLab('lab.yaml'), { timeout: 20_000 }).toMatch(/counts: \{ to: [\d.]+ s \}/);
    const ledger = page.getByRole('complementary', { name: 'The ledger' });
    await ledger.getByText(/was measured .* theory/).waitFor({ timeout: 60_000 });
    await ledger.getByRole('row', { name: /^measured/ }).waitFor();
  }, 120_000);

  it('is not upset by a broken file: it is told what it is, and the run stays', async () => {
    await drop('kaputt.csv', Buffer.from(Array.from({ length: 600 }, (_, i) => (i * 37) % 29)));
    const file = page.getByRole('article', { name: 'trials/kaputt.csv' });
    await file.getByText(/This is not a text file/).waitFor();
    await expect.poll(() => page.locator('.run-result').count(), { timeout: 20_000 }).toBe(2);
  }, 60_000);

  it('ends with documents: published, matching the lab, and downloaded', async () => {
    await goToStage('Publish');
    for (const name of ['Teacher guide', 'Answer key', 'Equipment list', 'Set-up sheet', 'Talk'])
      await page.getByRole('checkbox', { name, exact: true }).uncheck();
    for (const name of ['web pages', 'everything in one pack (.zip)'])
      await page.getByRole('checkbox', { name }).uncheck();
    await page.getByRole('button', { name: 'Publish', exact: true }).click();
    await page.getByText('They match the lab as it is.').waitFor({ timeout: 90_000 });
    const coming = page.waitForEvent('download');
    await page.getByRole('link', { name: 'Download data-sheet.pdf' }).click();
    const path = await (await coming).path();
    expect((await readFile(path)).subarray(0, 5).toString('latin1')).toBe('%PDF-');
  }, 150_000);

  it('shows a document as it is, with a passage that was written here', async () => {
    await page.getByRole('button', { name: 'Write it yourself under Aim' }).click();
    const passage = page.getByRole('textbox', { name: 'Passage “Aim”' });
    await passage.fill('We ask the chain itself.\n\n::draft');
    await expect
      .poll(() => fileOfLab('text/handout.md'), { timeout: 20_000 })
      .toContain('We ask the chain itself.');
    const preview = page.frameLocator('iframe.preview-page');
    await preview.getByText('We ask the chain itself.').waitFor({ timeout: 90_000 });
    await page.getByText('They no longer match the lab.').waitFor();
    // Far down in the document, and something changes above: one still reads at the same place.
    const placeOf = (heading: string) =>
      preview
        .getByRole('heading', { name: heading, exact: true })
        .evaluate((one) => Math.round(one.getBoundingClientRect().top));
    await preview
      .getByRole('heading', { name: 'Analysis', exact: true })
      .evaluate((one) => one.scrollIntoView());
    const before = await placeOf('Analysis');
    await passage.fill('We ask the chain itself.\n\nAnd then the trolley, too.\n\n::draft');
    await preview.getByText('And then the trolley, too.').waitFor({ timeout: 90_000 });
    await expect.poll(async () => Math.abs((await placeOf('Analysis')) - before)).toBeLessThan(4);
    await page.getByText('text/handout.md has changed since the documents were published.').waitFor();
  }, 150_000);
});
