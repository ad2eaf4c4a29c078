// First paint of the app, and how soon the ledger follows the hand, for every lab that comes along.
//
//   npm run build && node bench/app.mjs [LAB …]
//
// A browser without a window opens each lab in a fresh context, as after a restart. First paint is the browser's own
// "first contentful paint"; "outline" is the first ledger without uncertainties, "whole" the one with them, both from
// the start of navigation. Then a slider of each influential quantity is moved in the page, one step at a time; what is
// timed ends with the drawing in which a number of the ledger has changed.
import { spawn } from 'node:child_process';
import { chromium } from 'playwright-core';

const only = process.argv.slice(2);
const MOVES = 12;

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
const browser = await chromium.launch({
  executablePath: process.env.CHROMIUM ?? '/usr/bin/chromium',
  args: ['--no-sandbox', '--disable-gpu'],
});

const middle = (values) => [...values].sort((a, b) => a - b)[Math.floor(values.length / 2)] ?? Number.NaN;
const ms = (value) => (Number.isFinite(value) ? String(Math.round(value)) : '–');

/** In the page: moves a slider by a step and waits until a number of the ledger is another; null where none moves. */
function moveOnce({ name, by, patience }) {
  const slider = document.querySelector(`input[aria-label="Try another ${name}"]`);
  const numbers = () =>
    [...document.querySelectorAll('.beside .ledger-number')].map((one) => one.textContent).join();
  const before = numbers();
  const range = Number(slider.max) - Number(slider.min);
  const set = Object.getOwnPropertyDescriptor(HTMLInputElement.prototype, 'value').set;
  const start = performance.now();
  set.call(slider, String(Number(slider.value) + by * range));
  slider.dispatchEvent(new Event('input', { bubbles: true }));
  return new Promise((done) => {
    const look = () => {
      const now = performance.now();
      if (numbers() !== before) done(now - start);
      else if (now - start > patience) done(null);
      else requestAnimationFrame(look);
    };
    requestAnimationFrame(look);
  });
}

try {
  const { labs } = await (await fetch(`${address}/api/shelf`)).json();
  const wanted = labs.filter(({ folder }) => only.length === 0 || only.some((name) => folder.endsWith(name)));
  console.log(
    '| lab | first paint, ms | outline, ms | whole ledger, ms | slider to ledger, ms (median, slowest) |',
  );
  console.log('| --- | --- | --- | --- | --- |');
  for (const { id, folder } of wanted) {
    const context = await browser.newContext({ viewport: { width: 1280, height: 800 } });
    const page = await context.newPage();
    await page.goto(`${address}/lab/${id}/apparatus`);
    await page.locator('.beside .ledger').waitFor({ timeout: 120_000 });
    const outline = await page.evaluate(() => performance.now());
    await page.locator('.beside .ledger[data-settled="true"]').waitFor({ timeout: 300_000 });
    const whole = await page.evaluate(() => performance.now());
    const paint = await page.evaluate(
      () => performance.getEntriesByName('first-contentful-paint')[0]?.startTime ?? Number.NaN,
    );
    const names = await page
      .getByRole('slider')
      .evaluateAll((all) => all.map((one) => one.getAttribute('aria-label').replace('Try another ', '')));
    const times = [];
    for (const name of names.slice(0, 6)) {
      for (let move = 0; move < MOVES; move++) {
        const took = await page.evaluate(moveOnce, {
          name,
          by: 0.07 * (move % 2 === 0 ? 1 : -1),
          patience: 8000,
        });
        if (took === null) break;
        // The first move of a quantity opens the lab for it.
        if (move > 0) times.push(took);
      }
    }
    const slowest = Math.max(...times);
    console.log(
      `| ${folder.split('/').at(-1)} | ${ms(paint)} | ${ms(outline)} | ${ms(whole)} | ${ms(middle(times))}, ${ms(slowest)} |`,
    );
    await context.close();
  }
} finally {
  await browser.close();
  server.kill();
}
