import { afterAll, afterEach, beforeAll, describe, expect, it } from 'vitest';
import { type OpenedApp, openApp, openLab, untilQuiet } from './open-app.ts';

/** A tablet held upright: fingers, and 768 px of width. */
let app: OpenedApp;

beforeAll(async () => {
  app = await openApp(
    { 'my-chain': 'tow-chain' },
    { viewport: { width: 768, height: 1024 }, hasTouch: true, isMobile: true, deviceScaleFactor: 1 },
  );
  await openLab(app, 'my-chain');
});
afterAll(() => app?.close());
afterEach(() => {
  expect(app.errors).toEqual([]);
});

/** How far the page reaches beyond the screen, and what a finger would miss. */
interface Fit {
  readonly beyond: number;
  readonly small: readonly string[];
}

const howItFits = (): Promise<Fit> =>
  app.page.evaluate<Fit>(`{
    const seen = [...document.querySelectorAll('button, select, input, textarea, summary, nav a')].filter(
      (one) => one.checkVisibility() && !one.closest('.unseen, [aria-hidden="true"]') && !one.classList.contains('unseen'),
    );
    const sizeOf = (one) => {
      const target = one.type === 'checkbox' || one.type === 'radio' ? (one.closest('label') ?? one) : one;
      const { width, height } = target.getBoundingClientRect();
      return Math.min(width, height);
    };
    ({
      beyond: document.documentElement.scrollWidth - innerWidth,
      small: seen.filter((one) => sizeOf(one) < 24).map((one) => one.outerHTML.slice(0, 120)),
    });
  }`);

describe('on a tablet held upright', () => {
  it('the shelf and every stage fit, and everything can be met by a finger (WCAG 2.2, 2.5.8)', async () => {
    const { page } = app;
    const rail = page.getByRole('navigation', { name: 'Stages of the work' }).getByRole('link');
    const addresses = await rail.evaluateAll((all) => all.map((one) => one.getAttribute('href')));
    expect(addresses).toHaveLength(10);
    for (const address of addresses) {
      await page.locator(`nav a[href="${address}"]`).tap();
      await page.locator('.stage-head + *').waitFor();
      await untilQuiet(page);
      expect(await howItFits(), String(address)).toEqual({ beyond: 0, small: [] });
    }
    await page.getByRole('link', { name: 'All labs' }).tap();
    await page.getByRole('heading', { level: 1, name: 'Labs' }).waitFor();
    expect(await howItFits(), 'shelf').toEqual({ beyond: 0, small: [] });
  }, 240_000);

  it('the ledger stays in sight in a line, and is whole at a tap', async () => {
    const { page } = app;
    await openLab(app, 'my-chain');
    await page.locator('nav a[href$="/apparatus"]').tap();
    const ledger = page.getByRole('complementary', { name: 'The ledger' });
    await ledger.getByText(/was measured .* theory/).waitFor({ timeout: 60_000 });
    await ledger.getByRole('button', { name: 'More', exact: true }).tap();
    await ledger.getByRole('row', { name: /rolling resistance/ }).waitFor();
    expect((await howItFits()).beyond).toBe(0);
    await ledger.getByRole('button', { name: 'Less', exact: true }).tap();
  }, 90_000);

  it('a value is changed by a finger on its slider', async () => {
    const { page } = app;
    const slider = page.getByRole('slider', { name: 'Try another I' });
    await slider.scrollIntoViewIfNeeded();
    const before = await slider.inputValue();
    const box = await slider.boundingBox();
    if (box === null) throw new Error('no slider');
    await page.touchscreen.tap(box.x + 0.9 * box.width, box.y + box.height / 2);
    await expect.poll(() => slider.inputValue()).not.toBe(before);
    await page.getByRole('button', { name: /^Undo ?: I to/ }).tap();
    await expect.poll(() => slider.inputValue()).toBe(before);
  }, 60_000);
});
