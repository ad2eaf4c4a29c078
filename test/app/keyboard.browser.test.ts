import { readFile } from 'node:fs/promises';
import { join } from 'node:path';
import { afterAll, afterEach, beforeAll, describe, expect, it } from 'vitest';
import { type OpenedApp, openApp, untilQuiet } from './open-app.ts';

/** The main job by somebody who has no pointer: only keys are pressed, and what has the focus is what acts. */
let app: OpenedApp;

beforeAll(async () => {
  app = await openApp({ 'my-chain': 'tow-chain' });
});
afterAll(() => app?.close());
afterEach(() => {
  expect(app.errors).toEqual([]);
});

const labFile = (): Promise<string> => readFile(join(app.folder, 'my-chain/lab.yaml'), 'utf8');

/** What a screen reader would say of what has the focus. */
const focused = (): Promise<string> =>
  app.page.evaluate<string>(`{
    const one = document.activeElement;
    const labels = one.labels === undefined || one.labels === null ? [] : [...one.labels].map((label) => label.textContent);
    (one.getAttribute('aria-label') ?? (labels.join(' ') || one.textContent)).replace(/\\s+/g, ' ').trim();
  }`);

/** Goes on by the tabulator until something of that name has the focus. */
async function tabTo(name: RegExp, key: 'Tab' | 'Shift+Tab' = 'Tab'): Promise<void> {
  const passed: string[] = [];
  for (let step = 0; step < 250; step++) {
    await app.page.keyboard.press(key);
    const now = await focused();
    if (name.test(now)) return;
    passed.push(now.slice(0, 30));
  }
  throw new Error(`${name} was not reached; passed: ${passed.join(' | ')}`);
}

const heading = (name: string) => app.page.getByRole('heading', { level: 1, name, exact: true }).waitFor();

describe('the main job, by keys alone', () => {
  it('opens a lab from the shelf and goes to its apparatus', async () => {
    const { page, server } = app;
    await page.goto(server.address);
    await page.getByRole('listitem').filter({ hasText: 'my-chain' }).waitFor();
    // The copy has the title of the shipped lab and stands before it.
    await tabTo(/^A trolley drawn by its own tow chain$/);
    await page.keyboard.press('Enter');
    await heading('The question');
    await tabTo(/^The apparatus/);
    await page.keyboard.press('Enter');
    await heading('The apparatus');
  }, 60_000);

  it('changes a value and a slider, and the file follows', async () => {
    const { page } = app;
    await tabTo(/^value of m_t$/);
    await page.keyboard.press('Control+a');
    await page.keyboard.type('262.0 g');
    await page.keyboard.press('Enter');
    await expect.poll(labFile, { timeout: 20_000 }).toContain('262.0 g');
    await tabTo(/^Try another I$/);
    await page.keyboard.press('ArrowRight');
    await expect.poll(labFile, { timeout: 20_000 }).not.toContain('value: 7.2e-7 kg m^2');
    await page.keyboard.press('Control+z');
    await expect.poll(labFile, { timeout: 20_000 }).toContain('value: 7.2e-7 kg m^2');
  }, 90_000);

  it('puts a file of readings in, and makes a run of it', async () => {
    const { page } = app;
    // Listened for well before the key is pressed: the browser must know by then that no window is wanted.
    const asked = page.waitForEvent('filechooser', { timeout: 60_000 });
    await tabTo(/^Trials/, 'Shift+Tab');
    await page.keyboard.press('Enter');
    await heading('Trials');
    await untilQuiet(page);
    await tabTo(/^Choose files$/);
    await page.keyboard.press('Enter');
    const bytes = await readFile('labs/tow-chain/trials/chain-120-a.txt');
    // Other bytes than those that are there already: the same readings are kept once.
    const changed = Buffer.concat([bytes, Buffer.from('\n')]);
    await (await asked).setFiles({ name: 'fourth.txt', mimeType: 'text/plain', buffer: changed });
    await page.getByRole('article', { name: 'trials/fourth.txt' }).getByRole('button').waitFor();
    await tabTo(/^Use it as a run$/);
    await page.keyboard.press('Enter');
    await expect.poll(labFile, { timeout: 20_000 }).toContain('trials/fourth.txt');
  }, 90_000);

  it('reads the figure and the ledger', async () => {
    const { page } = app;
    await page.locator('.run-detail .figure-plot svg').first().waitFor();
    await tabTo(/Arrow keys read values/);
    await page.keyboard.press('ArrowRight');
    await expect.poll(() => page.locator('.reading-text').first().textContent()).toMatch(/\d/);
    await tabTo(/^Reconcile/, 'Shift+Tab');
    await page.keyboard.press('Enter');
    await heading('Reconcile');
    await page.locator('.ledger[data-settled="true"]').first().waitFor({ timeout: 60_000 });
    await tabTo(/^rolling resistance$/);
    await page.keyboard.press('Space');
    await page.getByText(/Switched off to see what happens/).waitFor();
  }, 120_000);

  it('publishes, and finds what can be downloaded', async () => {
    const { page } = app;
    await tabTo(/^Publish/, 'Shift+Tab');
    await page.keyboard.press('Enter');
    await heading('Publish');
    for (const name of [
      /^Teacher guide$/,
      /^Answer key$/,
      /^Talk$/,
      /^web pages/,
      /^everything in one pack/,
    ]) {
      await tabTo(name);
      await page.keyboard.press('Space');
    }
    await tabTo(/^Publish$/);
    await page.keyboard.press('Enter');
    await page
      .getByRole('link', { name: /^Download/ })
      .first()
      .waitFor({ timeout: 120_000 });
    await tabTo(/^Download/);
    const coming = page.waitForEvent('download');
    await page.keyboard.press('Enter');
    expect((await coming).suggestedFilename()).not.toBe('');
  }, 180_000);
});
