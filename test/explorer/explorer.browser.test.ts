import { mkdtemp, readFile, rm, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { pathToFileURL } from 'node:url';
import axe from 'axe-core';
import type { Browser, Page } from 'playwright-core';
import { afterAll, afterEach, beforeAll, describe, expect, it } from 'vitest';
import { howToGetBrowser, launchBrowser } from '../browser/find-browser.ts';
import { explorerOf, readTemplate } from './written-explorer.ts';

/** A teacher who got the file on a memory stick: opened from file://, with no network there. */
let folder: string;
let browser: Browser;
let page: Page;
const errors: string[] = [];
const requests: string[] = [];

beforeAll(async () => {
  folder = await mkdtemp(join(tmpdir(), 'explorer-'));
  const found = await launchBrowser();
  if (found === undefined) throw new Error(howToGetBrowser);
  browser = found;
  await open(await explorerOf('tow-chain'));
});

afterAll(async () => {
  await browser?.close();
  await rm(folder, { recursive: true, force: true });
});

afterEach(() => {
  expect(errors).toEqual([]);
  expect(requests).toEqual([]);
});

async function open(html: string): Promise<void> {
  const path = join(folder, 'explorer.html');
  await writeFile(path, html);
  const address = pathToFileURL(path).href;
  await page?.close();
  page = await browser.newPage({ viewport: { width: 390, height: 844 }, offline: true });
  page.on('pageerror', (error) => errors.push(String(error)));
  page.on('console', (message) => {
    if (message.type() === 'error') errors.push(message.text());
  });
  page.on('request', (request) => {
    if (request.url() !== address && !request.url().startsWith('blob:')) requests.push(request.url());
  });
  await page.goto(address);
}

/** As long as a slow machine may take. */
const patience = { timeout: 20_000 };

const ledgers = () => page.locator('#ledgers');
const settled = () => page.locator('#ledgers[data-settled="true"] table').first().waitFor();
const numberOf = async (kind: string): Promise<string | null> =>
  ledgers().locator('table').first().locator(`tr[data-kind="${kind}"] .number`).textContent();

async function violations(): Promise<readonly string[]> {
  // The page's own policy lets no other script run; it is asked through the browser.
  const found: unknown = await page.evaluate(
    `(() => { ${axe.source}; return axe.run(document).then((r) => r.violations.map((v) => v.id + ': ' + v.nodes.map((n) => n.html).join(' | '))); })()`,
  );
  return Array.isArray(found) ? found.map(String) : ['nothing came back'];
}

describe('an explorer opened from a file', () => {
  it('shows question, cautions, figures and a ledger with uncertainties and a verdict', async () => {
    await settled();
    expect(await page.locator('h1').textContent()).toBe('A trolley drawn by its own tow chain');
    expect(await page.locator('.cautions li').count()).toBe(5);
    expect(await page.locator('#figures svg').count()).toBeGreaterThanOrEqual(2);
    expect(await ledgers().locator('caption').first().textContent()).toContain('slope of v^2 against x^2');
    expect(await numberOf('measured')).toMatch(/\(\d+\)/);
    expect(await ledgers().locator('.verdict').first().textContent()).toContain('nothing left to explain');
  });

  it('computes in a worker made of its own script', () => {
    expect(page.workers().length).toBe(2);
  });

  it('has no fault of accessibility, and fits a phone', async () => {
    expect(await violations()).toEqual([]);
    const width = await page.evaluate('document.documentElement.scrollWidth');
    expect(width).toBeLessThanOrEqual(390);
  });

  it('lets a slider move the ledger, and goes back', async () => {
    await settled();
    const before = await numberOf('theory');
    const slider = page.locator('input[type="range"][data-quantity="lambda"]');
    await slider.focus();
    for (let press = 0; press < 5; press++) await page.keyboard.press('PageUp');
    await expect.poll(() => numberOf('theory'), patience).not.toBe(before);
    await page.getByRole('button', { name: 'Back to the values of the lab' }).click();
    await settled();
    expect(await numberOf('theory')).toBe(before);
  });

  it('lets an effect be switched off', async () => {
    await page.getByText('Effects: switch them off').click();
    const rows = ledgers().locator('table').first().locator('tr[data-kind="effect"]');
    const before = await rows.count();
    await page.getByRole('switch', { name: 'rolling resistance' }).click();
    await expect.poll(() => rows.count(), patience).toBe(before - 1);
    await page.getByRole('switch', { name: 'rolling resistance' }).click();
    await settled();
  });

  it('says what is wrong with a value, where the command line would', async () => {
    const field = page.locator('#quantity-L');
    await field.fill('1.2 kg');
    await page.locator('.problems li').first().waitFor();
    expect(await page.locator('.problems').first().textContent()).toMatch(/L/);
    await page.getByRole('button', { name: 'Back to the values of the lab' }).click();
    await settled();
  });

  it('makes a ledger of a file that is dropped, and says what it was read as', async () => {
    await page.setInputFiles('#own-file', 'labs/tow-chain/trials/chain-120-a.txt');
    await page.locator('#recognised li').first().waitFor();
    await settled();
    await page.locator('#ledgers th', { hasText: 'measured, 1 run' }).first().waitFor();
    expect(await page.getByLabel('Held against').inputValue()).toBe('own');
  });

  it('refuses a file that is none of readings, and keeps what is there', async () => {
    await page.setInputFiles('#own-file', {
      name: '<img src=x onerror=alert(1)>.csv',
      mimeType: 'text/csv',
      buffer: Buffer.from('colour\nred\nblue\n'),
    });
    const section = page.getByRole('region', { name: 'Your own readings' });
    await section.locator('.problems li').first().waitFor();
    expect(await page.locator('img').count()).toBe(0);
    expect(await page.locator('#ledgers th', { hasText: 'measured, 1 run' }).count()).toBeGreaterThan(0);
  });

  it('ranks what would give a number that somebody reports', async () => {
    await page.locator('#reported-k2').fill('1.5');
    await page.getByRole('button', { name: 'What would give this?' }).click();
    await page.locator('#marked .causes li').first().waitFor({ timeout: 120_000 });
    expect(await page.locator('#marked').textContent()).toContain('95 % of groups');
  }, 150_000);
});

describe('an explorer of a lab with hostile text', () => {
  it('shows it as text, and runs none of it', async () => {
    const hostile = '</script><script>document.title="taken"</script><img src=x onerror=alert(1)>';
    const lab = await readFile('labs/tow-chain/lab.yaml', 'utf8');
    const text = lab
      .replace(/^title: .*$/m, `title: '${hostile}'`)
      .replace('is: length of the chain', `is: '${hostile}'`)
      .replace(/^question: .*$/m, `question: '<!--<script>${hostile}'`);
    await open(await explorerOf('tow-chain', text));
    await settled();
    expect(await page.locator('h1').textContent()).toBe(hostile);
    expect(await page.title()).toBe(hostile);
    expect(await page.locator('img').count()).toBe(0);
    expect(await page.locator('script').count()).toBe(2);
  });
});

describe('an explorer where no worker can be made', () => {
  it('computes in the page', async () => {
    const html = await explorerOf('tow-chain');
    await open(html.replace('worker-src blob:', "worker-src 'none'"));
    await settled();
    expect(page.workers()).toEqual([]);
    expect(await page.locator('#figures svg').count()).toBeGreaterThanOrEqual(2);
    errors.length = 0;
  });

  it('tells a person without a script what is missing', async () => {
    expect(await readTemplate()).toContain('it needs a browser that runs its script');
  });
});
