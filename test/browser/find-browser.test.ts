import { expect, test } from 'vitest';
import { howToGetBrowser, launchBrowser } from './find-browser.ts';

test('a browser without a window starts and runs a page', async (context) => {
  const browser = await launchBrowser();
  if (browser === undefined) return context.skip(howToGetBrowser);
  const page = await browser.newPage();
  await page.setContent('<p>light on ink</p>');
  expect(await page.textContent('p')).toBe('light on ink');
  await browser.close();
});
