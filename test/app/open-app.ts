import { cp, mkdtemp, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join, resolve } from 'node:path';
import type { Browser, BrowserContextOptions, Page } from 'playwright-core';
import { expect } from 'vitest';
import { type RunningServer, startServer } from '../../src/server/index.ts';
import { howToGetBrowser, launchBrowser } from '../browser/find-browser.ts';

/** A person at the app: a folder with labs of one's own, a server on it, and a page of a real browser. */
export interface OpenedApp {
  readonly folder: string;
  readonly server: RunningServer;
  readonly browser: Browser;
  readonly page: Page;
  /** What went wrong in the page without being caught; a test leaves none. */
  readonly errors: readonly string[];
  close(): Promise<void>;
}

/**
 * Starts server and browser.
 *
 * @param copies shipped labs that lie in the folder as the person's own, by the name of the copy
 */
export async function openApp(
  copies: Readonly<Record<string, string>>,
  options: BrowserContextOptions = { viewport: { width: 1280, height: 900 } },
): Promise<OpenedApp> {
  const browser = await launchBrowser();
  if (browser === undefined) throw new Error(howToGetBrowser);
  const folder = await mkdtemp(join(tmpdir(), 'app-'));
  for (const [name, lab] of Object.entries(copies))
    await cp(join('labs', lab), join(folder, name), { recursive: true });
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
  const server = started.value;
  const page = await browser.newPage({ reducedMotion: 'reduce', ...options });
  page.setDefaultTimeout(30_000);
  const errors: string[] = [];
  page.on('pageerror', (error) => errors.push(String(error)));
  return {
    folder,
    server,
    browser,
    page,
    errors,
    async close() {
      await browser.close();
      await server.close();
      await rm(folder, { recursive: true, force: true });
    },
  };
}

/** Opens a lab of one's own from the shelf, by the name of its folder. */
export async function openLab({ page, server }: OpenedApp, folder: string): Promise<void> {
  await page.goto(server.address);
  await page.getByRole('listitem').filter({ hasText: folder }).getByRole('link').click();
  await page.getByRole('heading', { level: 1, name: 'The question' }).waitFor();
}

/** Goes to a stage of the work by the rail. */
export async function goToStage({ page }: OpenedApp, name: string): Promise<void> {
  await page.getByRole('navigation', { name: 'Stages of the work' }).getByText(name, { exact: true }).click();
  await page.getByRole('heading', { level: 1, name, exact: true }).waitFor();
}

/** Lets a file fall on to the page, as from a window of the desktop. */
export async function drop(page: Page, name: string, bytes: Buffer): Promise<void> {
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

/** Nothing is being computed any more. */
export async function untilQuiet(page: Page): Promise<void> {
  await expect.poll(() => page.locator('[data-busy="true"]').count(), { timeout: 90_000 }).toBe(0);
}
