// Pictures of every screen, in both themes and at three widths: node scripts/screens.mjs [FOLDER] [LAB]
// The program must have been built. Look at all of them before a screen is called done.
import { spawn } from 'node:child_process';
import { mkdir } from 'node:fs/promises';
import { chromium } from 'playwright-core';

const [folder = 'screens', lab = 'tow-chain'] = process.argv.slice(2);
const sizes = [
  { width: 1280, height: 800 },
  { width: 1024, height: 768 },
  { width: 768, height: 1024 },
];
const themes = ['light', 'dark'];

const server = spawn(process.execPath, ['dist/cli.mjs', 'open', '--port', '0', '--no-browser'], {
  stdio: ['ignore', 'pipe', 'inherit'],
});
const address = await new Promise((found, failed) => {
  let told = '';
  server.stdout.on('data', (bytes) => {
    told += bytes;
    const match = /http:\/\/[\d.]+:\d+/.exec(told);
    if (match !== null) found(match[0]);
  });
  server.on('exit', () => failed(new Error('The server did not start.')));
});

/** Nothing is being computed, and has not been for a moment. */
async function waitUntilQuiet(page) {
  let quiet = 0;
  while (quiet < 6) {
    await page.waitForTimeout(100);
    const isBusy = await page.locator('[data-settled="false"], [data-busy="true"]').count();
    quiet = isBusy > 0 ? 0 : quiet + 1;
  }
}

try {
  await mkdir(folder, { recursive: true });
  const browser = await chromium.launch({
    executablePath: process.env.CHROMIUM ?? '/usr/bin/chromium',
    args: ['--no-sandbox', '--disable-gpu'],
  });
  const shelf = await (await fetch(`${address}/api/shelf`)).json();
  const { id } = shelf.labs.find((one) => one.folder.endsWith(lab));
  for (const theme of themes) {
    for (const size of sizes) {
      const page = await browser.newPage({ viewport: size, colorScheme: theme, reducedMotion: 'reduce' });
      const take = (name) =>
        page.screenshot({ path: `${folder}/${name}-${theme}-${size.width}.png`, fullPage: true });
      page.on('pageerror', (error) => console.error(error));
      await page.goto(address);
      await page.getByRole('heading', { level: 2 }).first().waitFor();
      await take('shelf');
      await page.goto(`${address}/lab/${id}/question`);
      const links = page.getByRole('navigation', { name: 'Stages of the work' }).getByRole('link');
      await links.first().waitFor();
      const addresses = await links.evaluateAll((all) => all.map((one) => one.getAttribute('href')));
      for (const at of addresses) {
        await page.locator(`nav a[href="${at}"]`).click();
        await waitUntilQuiet(page);
        await take(at.split('/').at(-1));
      }
      await page.close();
    }
  }
  await browser.close();
} finally {
  server.kill();
}
