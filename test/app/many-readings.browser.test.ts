import { readFile } from 'node:fs/promises';
import { join } from 'node:path';
import { afterAll, afterEach, beforeAll, describe, expect, it } from 'vitest';
import { drop, goToStage, type OpenedApp, openApp, openLab } from './open-app.ts';

/** A logger that was left on its fastest rate: a hundred thousand readings of one emptying. */
const READINGS = 100_000;

let app: OpenedApp;

beforeAll(async () => {
  app = await openApp({ 'my-capacitor': 'leaking-capacitor' });
  await openLab(app, 'my-capacitor');
});
afterAll(() => app?.close());
afterEach(() => {
  expect(app.errors).toEqual([]);
});

const labFile = (): Promise<string> => readFile(join(app.folder, 'my-capacitor/lab.yaml'), 'utf8');

/** The voltage over 100 kilohm as the simple theory has it, read 10 000 times in each second. */
function longFile(): Buffer {
  const rows = Array.from({ length: READINGS }, (_, index) => {
    const time = index / 10_000;
    return `${time.toFixed(4)},${(8.8 * Math.exp(-time / 9.84)).toFixed(4)}`;
  });
  return Buffer.from(['time (s),voltage (V)', ...rows, ''].join('\n'));
}

const run = () =>
  app.page.getByRole('listitem').filter({ has: app.page.getByRole('button', { name: /^long/ }) });

describe('a hundred thousand readings', () => {
  it('become a run, and are drawn', async () => {
    const { page } = app;
    await goToStage(app, 'Trials');
    await page.getByText('Drop files of readings').waitFor();
    await drop(page, 'long.csv', longFile());
    const file = page.getByRole('article', { name: 'trials/long.csv' });
    await file.getByRole('textbox', { name: 'R_n when it was taken' }).fill('100 kohm', { timeout: 60_000 });
    await file.getByRole('button', { name: 'Use it as a run' }).click();
    await expect.poll(labFile, { timeout: 30_000 }).toContain('trials/long.csv');
    await run().getByText(`${READINGS} readings count.`).waitFor({ timeout: 90_000 });
    await run().locator('.figure-plot svg').waitFor({ timeout: 60_000 });
    // As many marks as the screen can show, not as many as there are readings.
    const marks = await run().locator('.figure-plot svg *').count();
    expect(marks).toBeGreaterThan(50);
    expect(marks).toBeLessThan(20_000);
  }, 240_000);

  it('are zoomed into and read at a point', async () => {
    const { page } = app;
    const plot = run().locator('.figure-plot');
    await plot.focus();
    await page.keyboard.press('+');
    await run().getByRole('button', { name: 'Whole figure' }).waitFor();
    await page.keyboard.press('ArrowRight');
    await expect.poll(() => run().locator('.reading-text').textContent()).toMatch(/\d/);
    await page.keyboard.press('Escape');
    await expect.poll(() => run().getByRole('button', { name: 'Whole figure' }).count()).toBe(0);
  }, 120_000);

  it('are marked by dragging: the run keeps the part that counts', async () => {
    const { page } = app;
    const plot = run().locator('.figure-plot');
    await plot.scrollIntoViewIfNeeded();
    const box = await plot.boundingBox();
    if (box === null) throw new Error('no figure');
    const y = box.y + box.height / 3;
    await page.mouse.move(box.x + 0.3 * box.width, y);
    await page.mouse.down();
    await page.mouse.move(box.x + 0.5 * box.width, y);
    await page.mouse.move(box.x + 0.8 * box.width, y);
    await page.mouse.up();
    await expect.poll(labFile, { timeout: 30_000 }).toMatch(/counts: \{ from: [\d.]+ s, to: [\d.]+ s \}/);
    await run()
      .getByText(/\d+ readings count; \d+ before and \d+ behind it are set aside/)
      .waitFor({ timeout: 60_000 });
  }, 120_000);
});
