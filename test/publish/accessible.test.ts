import { readFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import type { AxeResults } from 'axe-core';
import type { Browser, BrowserContext } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import type { PrintSettings } from '../../src/publish/document/index.ts';
import { howToGetBrowser, launchBrowser } from '../browser/find-browser.ts';
import { inEnglish } from './draft/gathered-lab.ts';
import { gatherQuickly, publishLab } from './published-lab.ts';

const axe = readFileSync(createRequire(import.meta.url).resolve('axe-core/axe.min.js'), 'utf8');

const inGerman: PrintSettings = { ...inEnglish, language: 'de', decimalMark: ',' };

const browser: Browser | undefined = await launchBrowser();
if (browser === undefined) console.warn(howToGetBrowser);

let context: BrowserContext;

/** Rules that hold for whole sites and print, and have no meaning for one page of text, are not among them. */
const RULES = ['wcag2a', 'wcag2aa', 'wcag21a', 'wcag21aa', 'wcag22aa', 'best-practice'];

/** What the checker finds on a page, and whether the page asked for anything outside itself or is wider than its window. */
async function lookAt(html: string) {
  const page = await context.newPage();
  const asked: string[] = [];
  page.on('request', (request) => {
    if (/^(?:https?|file|ws):/u.test(request.url())) asked.push(request.url());
  });
  await page.setContent(html, { waitUntil: 'load' });
  await page.evaluate(axe);
  const found: AxeResults = await page.evaluate(`axe.run({ runOnly: ${JSON.stringify(RULES)} })`);
  const overflow = await page.evaluate(
    'document.documentElement.scrollWidth - document.documentElement.clientWidth',
  );
  await page.setViewportSize({ width: 360, height: 740 });
  const onPhone = await page.evaluate(
    'document.documentElement.scrollWidth - document.documentElement.clientWidth',
  );
  await page.close();
  return {
    violations: found.violations.map(({ id, nodes }) => `${id}: ${nodes[0]?.html.slice(0, 120) ?? ''}`),
    passes: found.passes.length,
    asked,
    overflow,
    onPhone,
  };
}

describe.skipIf(browser === undefined)(
  'every page of a lab passes an accessibility checker in a real browser',
  () => {
    beforeAll(async () => {
      if (browser !== undefined)
        context = await browser.newContext({ viewport: { width: 1280, height: 900 } });
    });
    afterAll(() => browser?.close());

    it.each([
      ['tow-chain', inEnglish, /./u],
      ['tow-chain', inGerman, /^(?:handout-steps|teacher-guide)/u],
      ['long-swing', inEnglish, /^(?:handout-algebra|teacher-guide)/u],
      ['falling-chain', inGerman, /^(?:talk|data-sheet)/u],
    ])(
      '%s',
      async (name, settings, looked) => {
        const gathered = await gatherQuickly(name);
        const set = await publishLab(name, gathered, settings, ['html', 'slides']);
        const pages = set.filter((file) => file.name.endsWith('.html'));
        expect(pages.length).toBeGreaterThanOrEqual(8);
        for (const { name: file, content } of pages) {
          if (!looked.test(file) || typeof content !== 'string') continue;
          const { passes, ...found } = await lookAt(content);
          expect({ file, ...found }).toEqual({ file, violations: [], asked: [], overflow: 0, onPhone: 0 });
          expect(passes).toBeGreaterThan(15);
        }
      },
      180_000,
    );
  },
);
