import { readFile } from 'node:fs/promises';
import { fileURLToPath } from 'node:url';
import { build } from 'vite';
import { expect, it } from 'vitest';
import { allDigests } from './all-digests.ts';
import { howToGetBrowser, launchBrowser } from './find-browser.ts';
import { servePage } from './serve-page.ts';

/** As the app's own page, so without 'unsafe-eval'. */
const policy = "default-src 'none'; script-src 'self' 'wasm-unsafe-eval'; connect-src 'self'";

const read = async (path: string): Promise<Uint8Array<ArrayBuffer>> =>
  new Uint8Array(await readFile(new URL(`../../labs/tow-chain/${path}`, import.meta.url)));

async function bundlePage(): Promise<string> {
  const built = await build({
    configFile: false,
    logLevel: 'error',
    build: {
      write: false,
      minify: false,
      target: 'es2022',
      rollupOptions: { input: fileURLToPath(new URL('same-bits-page.ts', import.meta.url)) },
    },
  });
  if (Array.isArray(built) || !('output' in built)) throw new Error('One bundle was expected.');
  return built.output[0].code;
}

it('the same bits come from Node, from a browser that evaluates no text, and for 1, 2 and 4 lanes', async (context) => {
  const here = await allDigests(read);
  expect(here['motions, lanes: 2']).toBe(here['motions, lanes: 1']);
  expect(here['motions, lanes: 4']).toBe(here['motions, lanes: 1']);
  const browser = await launchBrowser();
  if (browser === undefined) return context.skip(howToGetBrowser);
  const served = await servePage({ policy, script: await bundlePage(), read });
  try {
    const page = await browser.newPage();
    const refused: string[] = [];
    page.on('console', (message) => {
      if (message.text().includes('Content Security Policy')) refused.push(message.text());
    });
    await page.goto(served.address);
    expect(await served.answer).toEqual(here);
    expect(refused).toEqual([]);
  } finally {
    await browser.close();
    served.close();
  }
});
