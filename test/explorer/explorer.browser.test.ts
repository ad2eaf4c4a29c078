import { mkdtemp, readFile, rm, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { pathToFileURL } from 'node:url';
import axe from 'axe-core';
import type { Browser, Page } from 'playwright-core';
import { afterAll, afterEach, beforeAll, describe, expect, it } from 'vitest';
import { howToGetBrowser, launchBrowser } from '../browser/find-browser.ts';
import { explorerOf } from './written-explorer.ts';

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
}, 120_000);

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
const cautions = async (): Promise<string> =>
  ((await page.locator('#page > .caution ul').textContent()) ?? '').replace(/\s+/g, ' ');
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
    expect(await cautions()).toContain('What moves carries up to 0.47 J at up to 1.7 m/s');
    expect(await page.locator('#page > .caution').textContent()).toContain('responsible, qualified staff');
    expect(await page.locator('#figures[data-alive] svg').count()).toBeGreaterThanOrEqual(2);
    expect(await page.locator('#waiting').count()).toBe(0);
    expect(await ledgers().locator('caption').first().textContent()).toContain('slope of v^2 against x^2');
    expect(await numberOf('measured')).toMatch(/\(\d+\)/);
    expect(await ledgers().locator('.verdict').first().textContent()).toContain('Nothing is left to explain');
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

  it('lets the cautions follow the equipment, and has its own words back with its own values', async () => {
    const set = () => page.locator('#page > .caution .value').count();
    const before = await set();
    expect(before).toBeGreaterThan(3);
    await page.locator('#quantity-m_t').fill('5 kg');
    await expect.poll(cautions, patience).toContain('Up to 5.2 kg in all hangs or moves');
    await page.getByRole('button', { name: 'Back to the values of the lab' }).click();
    await expect.poll(set, patience).toBe(before);
  });

  it('takes a decimal comma in a value', async () => {
    await page.locator('#quantity-L').fill('1,5 m');
    await settled();
    expect(await page.locator('.problems li').count()).toBe(0);
    await page.getByRole('button', { name: 'Back to the values of the lab' }).click();
    await settled();
  });

  it('holds the handouts with the author’s texts, to be read', async () => {
    const paper = page.locator('details.paper').first();
    await paper.locator('summary').click();
    expect(await paper.textContent()).toContain('A weight on a cord pulls a trolley with the same force');
    expect(await violations()).toEqual([]);
    expect(await page.evaluate('document.documentElement.scrollWidth')).toBeLessThanOrEqual(390);
    await paper.locator('summary').click();
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
    expect(await page.locator('.problems li').first().textContent()).toMatch(/L/);
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
});

describe('an explorer whose program is not let run', () => {
  it('shows title, cautions, a figure and the handout all the same, and says what to do', async () => {
    const path = join(folder, 'inert.html');
    await writeFile(path, (await explorerOf('tow-chain')).replace(/script-src [^;]*;/, "script-src 'none';"));
    const inert = await browser.newPage({ viewport: { width: 390, height: 844 } });
    await inert.goto(pathToFileURL(path).href);
    expect(await inert.locator('#waiting').textContent()).toContain('save the file and open it in a browser');
    expect(await inert.locator('#figures svg:visible').count()).toBe(1);
    expect(await inert.locator('#page > .caution li').count()).toBeGreaterThan(5);
    await inert.locator('details.paper summary').first().click();
    expect(await inert.locator('details.paper h3:visible').count()).toBeGreaterThan(5);
    await inert.close();
  });
});

describe('an explorer with a kit that has another instrument', () => {
  const kit = `
  gates:
    is: three light gates along the track
    set: { L: 1.3 m }
    instruments: { wheel gate: { edges per turn: 5 } }
`;

  it('reads, reduces and rehearses with that instrument, and goes back to the lab’s own', async () => {
    const lab = await readFile('labs/tow-chain/lab.yaml', 'utf8');
    await open(
      await explorerOf(
        'tow-chain',
        lab.replace(/^kits:\n/m, (found) => `${found}${kit.slice(1)}`),
      ),
    );
    await settled();
    const rows = () => ledgers().locator('table').first().locator('tr').count();
    const before = await rows();
    await page
      .getByRole('combobox', { name: 'Equipment' })
      .selectOption({ label: 'gates: three light gates along the track' });
    await expect.poll(() => page.locator('#quantity-L').inputValue(), patience).toBe('1.3 m');
    await settled();
    expect(await page.getByLabel('Held against').inputValue()).toBe('none');
    expect(await rows()).toBeLessThan(before);
    await page.getByRole('button', { name: 'Back to the values of the lab' }).click();
    await expect.poll(() => page.locator('#quantity-L').inputValue(), patience).toBe('1.2 m');
    await settled();
    expect(await page.getByLabel('Held against').inputValue()).toBe('lab');
    expect(await rows()).toBe(before);
  });
});

describe('an explorer that was published in German', () => {
  it('speaks German: parts, ledger with a decimal comma, verdict, and what helps', async () => {
    await open(await explorerOf('tow-chain', undefined, 'de'));
    await settled();
    expect(await page.locator('html').getAttribute('lang')).toBe('de');
    expect(await page.locator('h1').textContent()).toContain('Ein Wagen');
    expect(await numberOf('measured')).toMatch(/^\d,\d+\(\d+\)$/);
    expect(await ledgers().locator('.verdict').first().textContent()).toContain(
      'Es bleibt nichts zu erklären',
    );
    expect(await cautions()).toContain('Was sich bewegt, trägt bis zu 0,47 J');
    expect(await violations()).toEqual([]);
    await page.locator('#reported-k2').fill('1,5');
    await page.getByRole('button', { name: 'Was würde das ergeben?' }).click();
    await page.locator('#marked .causes li').first().waitFor({ timeout: 120_000 });
    expect(await page.locator('#marked').textContent()).toMatch(/95 % der Gruppen finden, \d,\d+ … \d,\d+/);
  }, 150_000);
});
