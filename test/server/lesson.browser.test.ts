import axe from 'axe-core';
import type { Browser, Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { howToGetBrowser, launchBrowser } from '../browser/find-browser.ts';
import { startClass } from './lesson-talk.ts';

let browser: Browser;
const errors: string[] = [];

beforeAll(async () => {
  const found = await launchBrowser();
  if (found === undefined) throw new Error(howToGetBrowser);
  browser = found;
}, 60_000);

afterAll(() => browser?.close());

const phone = { width: 360, height: 740 };
const laptop = { width: 1280, height: 800 };

async function open(address: string, viewport = phone): Promise<Page> {
  const context = await browser.newContext({ viewport });
  const page = await context.newPage();
  page.on('pageerror', (error) => errors.push(String(error)));
  page.on('console', (message) => {
    // A form that is refused is an answer of the page, no fault of it.
    if (message.type() === 'error' && !message.text().includes('422')) errors.push(message.text());
  });
  await page.goto(address);
  return page;
}

async function faultsOf(page: Page): Promise<readonly string[]> {
  const found: unknown = await page.evaluate(
    `(() => { ${axe.source}; return axe.run(document).then((r) => r.violations.map((v) => v.id + ': ' + v.nodes.map((n) => n.html).join(' | '))); })()`,
  );
  const width = Number(await page.evaluate('document.documentElement.scrollWidth'));
  const room = page.viewportSize()?.width ?? 0;
  return [
    ...(Array.isArray(found) ? found.map(String) : ['nothing came back']),
    ...(width > room ? [`${width} wide in ${room}`] : []),
  ];
}

describe('a lesson on phones and on the teacher’s screen', () => {
  it('lets a group come in, enter, hear at once how it looks, and fills the screens of two teachers', async () => {
    const { lesson } = await startClass();
    const teachers = [await open(lesson.teacherAddress, laptop), await open(lesson.teacherAddress, phone)];
    const student = await open(lesson.address);
    expect(await faultsOf(student)).toEqual([]);
    await student.getByLabel('Code of the lesson').fill(lesson.code().toLowerCase());
    await student.getByLabel('Name of your group').fill('a rather long name of a group, forty signs');
    await student.getByLabel('Your station').selectOption('A');
    await student.getByRole('button', { name: 'Come in' }).click();
    await student.getByText('station A').waitFor();
    await student.getByLabel(/slope/).first().fill('99');
    await student.getByRole('button', { name: 'Enter' }).click();
    await student.getByText('not plausible').waitFor();
    expect(await faultsOf(student)).toEqual([]);
    for (const teacher of teachers) {
      await teacher.getByText('slope = 99 1/s (not plausible)').first().waitFor({ timeout: 10_000 });
      expect(await faultsOf(teacher)).toEqual([]);
    }
    const [first, second] = teachers;
    await first?.getByRole('button', { name: /^Delete slope/ }).click();
    await second?.getByText('slope = 99').first().waitFor({ state: 'detached', timeout: 10_000 });
    expect(errors).toEqual([]);
  });

  it('returns the readings of another experiment on the page, in a sentence', async () => {
    const { lesson, join: come } = await startClass();
    const { cookie } = await come('red', 'A');
    const student = await open(lesson.address);
    const [name = '', value = ''] = cookie.split('=');
    await student.context().addCookies([{ name, value, url: lesson.address }]);
    await student.reload();
    await student.setInputFiles('input[type=file]', {
      name: 'other.csv',
      mimeType: 'text/csv',
      buffer: Buffer.from('temperature (°C),mass (g)\n20,1\n21,2\n'),
    });
    await student.getByRole('button', { name: 'Send' }).click();
    expect(await student.getByRole('alert').textContent()).toContain('Is it the file of another experiment?');
    expect(await faultsOf(student)).toEqual([]);
    expect(errors).toEqual([]);
  });

  it('speaks German where it is asked to, with a decimal comma', async () => {
    const { lesson } = await startClass(3, undefined, 'de');
    const student = await open(lesson.address);
    expect(await student.locator('html').getAttribute('lang')).toBe('de');
    await student.getByLabel('Code der Stunde').fill('AAAAAA');
    await student.getByLabel('Name der Gruppe').fill('rot');
    await student.getByRole('button', { name: 'Eintreten' }).click();
    expect(await student.getByRole('alert').textContent()).toContain('Das ist nicht der Code dieser Stunde');
    errors.length = 0;
    await student.getByLabel('Code der Stunde').fill(lesson.code());
    await student.getByLabel('Name der Gruppe').fill('rot');
    await student.getByRole('button', { name: 'Eintreten' }).click();
    await student.getByText('Gruppe rot, Station A').waitFor();
    await student.getByLabel(/slope/).first().fill('3,5');
    await student.getByRole('button', { name: 'Eingeben' }).click();
    await student
      .getByText(/plausibel|beinahe/)
      .first()
      .waitFor();
    expect(await faultsOf(student)).toEqual([]);
    const teacher = await open(lesson.teacherAddress, laptop);
    await teacher.getByText('slope = 3,5 1/s').first().waitFor();
    expect(await faultsOf(teacher)).toEqual([]);
    expect(errors).toEqual([]);
  });
});
