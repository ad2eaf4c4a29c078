// Pictures of every screen, in both themes and at three widths: node scripts/screens.mjs [FOLDER] [LAB]
// The program must have been built. Look at all of them before a screen is called done.
//
// Besides the stages of a lab as it comes: the lab as text, the form of a new lab, kits opened, slips opened, an error,
// a clash, the server gone, a lab with a long ledger and many rows, and one that has just been begun.
import { spawn } from 'node:child_process';
import { cp, mkdir, mkdtemp, readFile, rm, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join, resolve } from 'node:path';
import { chromium } from 'playwright-core';

const [folder = 'screens', lab = 'tow-chain'] = process.argv.slice(2);
const sizes = [
  { width: 1280, height: 800 },
  { width: 1024, height: 768 },
  { width: 768, height: 1024 },
];
const themes = ['light', 'dark'];
const program = resolve('dist/cli.mjs');

/** Labs of one's own, which may be spoilt. */
const own = await mkdtemp(join(tmpdir(), 'screens-'));
const ownFile = join(own, 'our-lab/lab.yaml');
await cp(join('labs', lab), join(own, 'our-lab'), { recursive: true });
const whole = await readFile(ownFile, 'utf8');

async function startServer(port) {
  const server = spawn(process.execPath, [program, 'open', '--port', port, '--no-browser'], {
    cwd: own,
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
  return { server, address };
}

/** Nothing is being computed, and has not been for a moment. */
async function waitUntilQuiet(page) {
  let quiet = 0;
  while (quiet < 6) {
    await page.waitForTimeout(100);
    const isBusy = await page.locator('[data-settled="false"], [data-busy="true"]').count();
    quiet = isBusy > 0 ? 0 : quiet + 1;
  }
}

let { server, address } = await startServer('0');
const browser = await chromium.launch({
  executablePath: process.env.CHROMIUM ?? '/usr/bin/chromium',
  args: ['--no-sandbox', '--disable-gpu'],
});

const shelf = async () => (await fetch(`${address}/api/shelf`)).json();
const idOf = async (name) => (await shelf()).labs.find((one) => one.folder.endsWith(name)).id;

/** Pictures of one theme and width. */
async function takeAll(page, take) {
  const open = async (id, stage) => {
    await page.goto(`${address}/lab/${id}/${stage}`);
    await page.locator('.stage-head + *').waitFor();
    await waitUntilQuiet(page);
  };
  await page.goto(address);
  await page.getByRole('heading', { level: 2 }).first().waitFor();
  for (const picture of await page.locator('.lab-picture').all()) await picture.scrollIntoViewIfNeeded();
  await waitUntilQuiet(page);
  await page.getByRole('textbox', { name: 'Name of its folder' }).fill('../elsewhere');
  await page.getByRole('button', { name: 'Make it' }).click();
  await page.locator('.new-lab .problems').waitFor();
  await take('shelf');

  const ours = await idOf('our-lab');
  await open(ours, 'question');
  const links = page.getByRole('navigation', { name: 'Stages of the work' }).getByRole('link');
  const addresses = await links.evaluateAll((all) => all.map((one) => one.getAttribute('href')));
  for (const at of addresses) {
    await page.locator(`nav a[href="${at}"]`).click();
    await waitUntilQuiet(page);
    const stage = at.split('/').at(-1);
    for (const details of await page.locator('main details').all())
      if (stage !== 'reconcile') await details.evaluate((one) => one.setAttribute('open', ''));
    if (stage === 'apparatus') await page.getByRole('button', { name: 'More about m_t' }).click();
    if (stage === 'trials') {
      await page.locator('.run-line').first().click();
      await waitUntilQuiet(page);
    }
    await take(stage);
  }

  await open(ours, 'apparatus');
  await page.getByRole('button', { name: 'As text' }).click();
  await page.getByRole('textbox', { name: 'The text of lab.yaml' }).waitFor();
  const field = page.getByRole('textbox', { name: 'value of m_t' });
  await field.fill('251 gg');
  await page
    .getByText(/"gg" is not a unit/)
    .first()
    .waitFor();
  await take('as-text-and-an-error');
  await field.press('Escape');

  await writeFile(ownFile, whole.replace('x: v', 'x: v + L').replace('kits:', 'kts:'));
  await page.locator('.bar[data-tone="bad"]').waitFor();
  await take('broken-outside');
  await writeFile(ownFile, whole);
  await page.locator('.bar[data-tone="bad"]').waitFor({ state: 'detached' });

  server.kill();
  await page
    .getByText(/server does not answer/)
    .first()
    .waitFor();
  await take('server-gone');
  ({ server } = await startServer(new URL(address).port));
  await page
    .getByText(/server does not answer/)
    .first()
    .waitFor({ state: 'detached', timeout: 20_000 });

  for (const [name, stage] of [
    ['falling-chain', 'reconcile'],
    ['tired-cells', 'model'],
    ['draped-chain', 'classroom'],
    ['paper-cups', 'reduction'],
  ]) {
    await open(await idOf(name), stage);
    await take(`${name}-${stage}`);
  }

  const begun = (await shelf()).labs.find((one) => one.folder.endsWith('just-begun'));
  const small =
    begun?.id ??
    (
      await (
        await fetch(`${address}/api/labs`, {
          method: 'POST',
          headers: { 'Content-Type': 'application/json', Origin: address },
          body: JSON.stringify({ from: null, name: 'just-begun' }),
        })
      ).json()
    ).id;
  for (const stage of addresses.map((at) => at.split('/').at(-1))) {
    await open(small, stage);
    await take(`just-begun-${stage}`);
  }
}

try {
  await mkdir(folder, { recursive: true });
  for (const theme of themes) {
    for (const size of sizes) {
      const page = await browser.newPage({ viewport: size, colorScheme: theme, reducedMotion: 'reduce' });
      page.on('pageerror', (error) => console.error(error));
      await takeAll(page, (name) =>
        page.screenshot({ path: `${folder}/${name}-${theme}-${size.width}.png`, fullPage: true }),
      );
      await page.close();
    }
  }
} finally {
  await browser.close();
  server.kill();
  await rm(own, { recursive: true, force: true });
}
