import { existsSync } from 'node:fs';
import { readdir, readFile } from 'node:fs/promises';
import { join } from 'node:path';
import { afterAll, afterEach, beforeAll, describe, expect, it } from 'vitest';
import { type OpenedApp, openApp } from './open-app.ts';

let app: OpenedApp;

beforeAll(async () => {
  app = await openApp({});
});
afterAll(() => app?.close());
afterEach(() => {
  expect(app.errors).toEqual([]);
});

const newLab = () => app.page.getByRole('form', { name: 'A new lab' });
const fileOf = (path: string): Promise<string> => readFile(join(app.folder, path), 'utf8').catch(() => '');

describe('the shelf', () => {
  it('shows every lab that comes along: its question, and a picture of its ledger', async () => {
    const { page, server } = app;
    const labs = (await readdir('labs')).filter((name) => existsSync(join('labs', name, 'lab.yaml')));
    await page.goto(server.address);
    const entries = page.locator('.shelf-labs > li');
    await expect.poll(() => entries.count()).toBe(labs.length);
    for (const entry of await entries.all()) {
      expect(await entry.locator('p').first().textContent()).toMatch(/\?$/);
      // Pictures are drawn where they come into sight.
      await entry.scrollIntoViewIfNeeded();
    }
    await expect.poll(() => page.locator('.lab-picture svg').count(), { timeout: 100_000 }).toBe(labs.length);
  }, 120_000);

  it('says why a lab of that name cannot be made', async () => {
    const { page } = app;
    await newLab().getByRole('textbox', { name: 'Name of its folder' }).fill('../elsewhere');
    await newLab().getByRole('button', { name: 'Make it' }).click();
    await newLab().getByRole('listitem').first().waitFor();
    expect(page.url()).toBe(app.server.address);
    expect(await readdir(app.folder)).toEqual([]);
  });

  it('begins a lab from a small one, whose every stage can be looked at', async () => {
    const { page } = app;
    await newLab().getByRole('textbox', { name: 'Name of its folder' }).fill('first-try');
    await newLab().getByRole('button', { name: 'Make it' }).click();
    await page.getByRole('heading', { level: 1, name: 'The question' }).waitFor();
    expect(await fileOf('first-try/lab.yaml')).toContain('benchwright: 1');
    const rail = page.getByRole('navigation', { name: 'Stages of the work' });
    const names = await rail.locator('.rail-name').allTextContents();
    expect(names).toHaveLength(10);
    for (const name of names) {
      await rail.getByText(name, { exact: true }).click();
      await page.getByRole('heading', { level: 1, name, exact: true }).waitFor();
      await expect.poll(() => page.locator('.stage-head + *').count()).toBe(1);
      await page.getByText('One moment …').waitFor({ state: 'detached' });
    }
    await rail.getByText('no runs yet').waitFor();
  });

  it('copies a lab that came along, and the shelf has the copy with its folder', async () => {
    const { page, server } = app;
    await page.goto(server.address);
    await newLab().getByRole('textbox', { name: 'Name of its folder' }).fill('our-swing');
    await newLab().getByRole('combobox', { name: 'Begun from' }).selectOption({ label: 'The long swing' });
    await newLab().getByRole('button', { name: 'Make it' }).click();
    await page.getByRole('heading', { level: 1, name: 'The question' }).waitFor();
    expect(await fileOf('our-swing/lab.yaml')).toContain('angle sensor');
    await page.getByRole('link', { name: 'All labs' }).click();
    await page.locator('.shelf-labs > li').filter({ hasText: 'our-swing' }).getByRole('link').waitFor();
  });
});
