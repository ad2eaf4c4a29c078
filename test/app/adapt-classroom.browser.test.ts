import { readFile } from 'node:fs/promises';
import axe from 'axe-core';
import type { Page } from 'playwright-core';
import { afterAll, afterEach, beforeAll, describe, expect, it } from 'vitest';
import { goToStage as goTo, type OpenedApp, openApp, openLab } from './open-app.ts';

/** The lab that is quickest to rehearse, in a folder of one's own. */
let app: OpenedApp;
let page: Page;

beforeAll(async () => {
  app = await openApp({ batteries: 'tired-cells' }, { viewport: { width: 1024, height: 768 } });
  page = app.page;
  await openLab(app, 'batteries');
}, 60_000);

afterAll(() => app?.close());

afterEach(() => {
  expect(app.errors).toEqual([]);
});

const goToStage = (name: string): Promise<void> => goTo(app, name);

const patience = { timeout: 30_000 };

async function faults(): Promise<unknown> {
  return page.evaluate(
    `(() => { ${axe.source}; return axe.run(document.querySelector('main')).then((r) => r.violations.map((v) => v.id + ': ' + v.nodes.map((n) => n.html).join(' | '))); })()`,
  );
}

describe('where the lab works', () => {
  it('is drawn as a map over two quantities, with the limit at each value of the second', async () => {
    await goToStage('Adapt');
    const part = page.getByRole('region', { name: 'Over a range' });
    await part.getByLabel('What is varied').selectOption('r_1');
    await part.getByLabel('And with it').selectOption('n');
    await part.getByRole('button', { name: 'Work it out' }).click();
    await part.locator('.threshold p').nth(4).waitFor(patience);
    expect(await part.locator('.threshold p').first().textContent()).toMatch(/^At n = /);
    expect(await part.locator('svg').count()).toBe(1);
  });

  it('has a best choice that says it is exhaustive, can be stopped, and names limits that nothing keeps', async () => {
    const part = page.getByRole('region', { name: 'The best choice under limits' });
    await part.getByLabel('May be chosen', { exact: true }).selectOption('r_1');
    await part.getByLabel(/^r_1: a range/).fill('0.2 ohm, 0.3 ohm, 0.5 ohm');
    await part.getByRole('button', { name: 'Another limit' }).click();
    await part.getByLabel('Limit 1', { exact: true }).selectOption('r_1');
    await part.getByLabel('value of limit 1').fill('0.4 ohm');
    await part.getByRole('button', { name: 'Find the best' }).click();
    await part.getByText('The search is exhaustive: all 3 choices were gone through').waitFor(patience);
    expect(await part.locator('.threshold strong').textContent()).toContain('r_1 = 0.');
    await part.getByLabel('value of limit 1').fill('0.1 ohm');
    await part.getByRole('button', { name: 'Find the best' }).click();
    await part.getByText('None of the 3 choices that were looked at meets r_1 < 0.1 ohm.').waitFor(patience);
    // A search through rehearsals takes long enough to be stopped.
    await part.getByLabel('value of limit 1').fill('1 ohm');
    await part.getByLabel('What is looked for').selectOption({ label: 'the least scatter of r_b' });
    await part.getByLabel(/^r_1: a range/).fill('0.2 ohm..0.5 ohm by 0.0005 ohm');
    await part.getByRole('button', { name: 'Find the best' }).click();
    await part.getByText(/of 601 choices/).waitFor(patience);
    await part.getByRole('button', { name: 'Stop' }).click();
    await part.getByRole('progressbar').waitFor({ state: 'detached' });
    expect(await faults()).toEqual([]);
  });
});

describe('what a class reports', () => {
  it('is marked from a file, can be kept as CSV with formulas as text, and as a page', async () => {
    await goToStage('Classroom');
    const part = page.getByRole('region', { name: 'What a whole class reports' });
    await part.locator('input[type=file]').setInputFiles({
      name: 'class.csv',
      mimeType: 'text/csv',
      buffer: Buffer.from('group,station,U_0\nred,A,6.3\n=1+1,A,12\nblue,Q,6\n'),
    });
    await part.getByText('3 lines marked, 1 of them could not be read.').waitFor({ timeout: 60_000 });
    expect(await part.locator('tbody tr').count()).toBe(3);
    const [kept] = await Promise.all([
      page.waitForEvent('download'),
      part.getByRole('link', { name: 'Keep it as CSV' }).click(),
    ]);
    expect(kept.suggestedFilename()).toBe('marked.csv');
    expect(await readFile(await kept.path(), 'utf8')).toContain("'=1+1,A,");
    await part.getByLabel('Told in').selectOption('de');
    await part.getByText('nicht').or(part.getByText('richtig')).first().waitFor(patience);
    expect(await faults()).toEqual([]);
  });

  it('is refused in a sentence where the file is no list of this lab', async () => {
    const part = page.getByRole('region', { name: 'What a whole class reports' });
    await part.locator('input[type=file]').setInputFiles({
      name: 'other.csv',
      mimeType: 'text/csv',
      buffer: Buffer.from('group,colour\na,red\n'),
    });
    await part.getByText('No column of the list is headed by a result of this lab').waitFor(patience);
  });

  it('takes a stated uncertainty and a group’s own readings beside its number', async () => {
    const part = page.getByRole('region', { name: 'What a group reports' });
    await part.getByLabel(/^reported U_0/).fill('6.3');
    await part.getByLabel('standard uncertainty of U_0, if the group states one').fill('0.05');
    await part.locator('input[type=file]').setInputFiles({
      name: 'other.csv',
      mimeType: 'text/csv',
      buffer: Buffer.from('temperature (°C)\n20\n21\n22\n'),
    });
    await part.getByText('Readings: other.csv').waitFor(patience);
    await part.getByRole('button', { name: 'Mark it' }).click();
    await part.getByText('Is it the file of another experiment?').waitFor({ timeout: 60_000 });
    await part.getByRole('button', { name: 'Without them' }).click();
    await part.getByRole('button', { name: 'Mark it' }).click();
    await part.locator('.causes li').first().waitFor({ timeout: 60_000 });
  });
});
