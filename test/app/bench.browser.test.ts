import { cp, mkdtemp, readFile, rm, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join, resolve } from 'node:path';
import axe from 'axe-core';
import type { Browser, Page } from 'playwright-core';
import { afterAll, afterEach, beforeAll, describe, expect, it } from 'vitest';
import { type RunningServer, startServer } from '../../src/server/index.ts';
import { howToGetBrowser, launchBrowser } from '../browser/find-browser.ts';

/** A person at the screen: the flagship lab in a folder of one's own, and the shipped labs beside it. */
let folder: string;
let server: RunningServer;
let browser: Browser;
let page: Page;
const errors: string[] = [];

const stages = [
  'question',
  'apparatus',
  'model',
  'reduction',
  'rehearse',
  'trials',
  'reconcile',
  'adapt',
  'publish',
  'classroom',
];

beforeAll(async () => {
  folder = await mkdtemp(join(tmpdir(), 'bench-'));
  await cp('labs/tow-chain', join(folder, 'my-chain'), { recursive: true });
  const found = await launchBrowser();
  if (found === undefined) throw new Error(howToGetBrowser);
  browser = found;
  server = await start(0);
  page = await browser.newPage({ viewport: { width: 1280, height: 800 }, reducedMotion: 'reduce' });
  page.on('pageerror', (error) => errors.push(String(error)));
});

afterAll(async () => {
  await browser?.close();
  await server?.close();
  await rm(folder, { recursive: true, force: true });
});

afterEach(() => {
  expect(errors).toEqual([]);
});

async function start(port: number): Promise<RunningServer> {
  const started = await startServer({
    opened: null,
    folder,
    shippedLabs: resolve('labs'),
    appFolder: resolve('dist/app'),
    documentThread: null,
    version: '0',
    port,
  });
  if (!started.ok) throw new Error(started.problems[0]?.message);
  return started.value;
}

const labFile = (): Promise<string> => readFile(join(folder, 'my-chain/lab.yaml'), 'utf8');

async function openOwn(): Promise<void> {
  await page.goto(server.address);
  const own = page.getByRole('listitem').filter({ hasText: 'my-chain' });
  await own.getByRole('link').click();
  await page.getByRole('heading', { level: 1, name: 'The question' }).waitFor();
}

const goToStage = async (name: string): Promise<void> => {
  await page.getByRole('navigation', { name: 'Stages of the work' }).getByText(name, { exact: true }).click();
  await page.getByRole('heading', { level: 1, name }).waitFor();
};

const beside = () => page.getByRole('complementary', { name: 'The ledger' });

async function settled(): Promise<void> {
  await page.locator('.ledger[data-settled="true"]').first().waitFor({ timeout: 40_000 });
}

async function untilFileHas(text: string): Promise<void> {
  await expect.poll(labFile, { timeout: 15_000 }).toContain(text);
}

describe('a developer at the bench', () => {
  it('opens a lab, moves the wheel’s inertia, and the ledger follows', async () => {
    await openOwn();
    await goToStage('The apparatus');
    await settled();
    const share = beside().getByRole('row', { name: /wheel turns too/ });
    expect(await share.textContent()).toContain('−0.0139');
    const slider = page.getByRole('slider', { name: 'Try another I' });
    await slider.focus();
    for (let i = 0; i < 3; i++) await page.keyboard.press('PageUp');
    await expect.poll(() => share.textContent(), { timeout: 20_000 }).not.toContain('−0.0139');
    await expect.poll(labFile, { timeout: 15_000 }).not.toContain('value: 7.2e-7 kg m^2');
  });

  it('undoes it by the keyboard, and the file and the ledger are as before', async () => {
    while (await page.getByRole('button', { name: /^Undo/ }).isEnabled())
      await page.keyboard.press('Control+z');
    await untilFileHas('value: 7.2e-7 kg m^2');
    const share = beside().getByRole('row', { name: /wheel turns too/ });
    await expect.poll(() => share.textContent(), { timeout: 20_000 }).toContain('−0.0139');
  });

  it('types a value with its unit, and finds it again after a reload', async () => {
    const field = page.getByRole('textbox', { name: 'value of m_t' });
    await field.fill('260.0 g');
    await field.press('Enter');
    await untilFileHas('value: 260.0 g');
    await page.reload();
    await expect.poll(() => field.inputValue()).toBe('260.0 g');
  });

  it('is told at once, in the words of the command line, what is wrong with a value', async () => {
    const field = page.getByRole('textbox', { name: 'value of m_t' });
    await field.fill('260.0 gg');
    await page.getByText(/"gg" is not a unit/).waitFor();
    await untilFileHas('value: 260.0 g,');
    await field.press('Escape');
    expect(await field.inputValue()).toBe('260.0 g');
  });

  it('sees at once what another program wrote into the file', async () => {
    const now = await labFile();
    await writeFile(join(folder, 'my-chain/lab.yaml'), now.replace('value: 1.10 m', 'value: 1.05 m'));
    const field = page.getByRole('textbox', { name: 'value of h_b' });
    await expect.poll(() => field.inputValue(), { timeout: 15_000 }).toBe('1.05 m');
  });

  it('writes the lab as text: a key by its first letters, told at once what is wrong, undone with everything else', async () => {
    const before = await labFile();
    await page.getByRole('button', { name: 'As text' }).click();
    const text = page.getByRole('textbox', { name: 'The text of lab.yaml' });
    await text.waitFor();
    await page.keyboard.press('Control+End');
    await page.keyboard.type('refe');
    // A list that has just opened takes no click yet, so that nothing is chosen by accident: click again until it does.
    const option = page.getByRole('option', { name: 'references' });
    await expect
      .poll(
        async () => {
          await option.click({ timeout: 1000 }).catch(() => undefined);
          return text.textContent();
        },
        { timeout: 15_000 },
      )
      .toMatch(/references: $/);
    await page.keyboard.type('7');
    const messages = page.getByRole('list', { name: 'Messages on the text' });
    await messages.getByText(/references/).waitFor();
    await untilFileHas('references: 7');
    await page.keyboard.press('Control+z');
    await expect.poll(() => messages.getByRole('listitem').count()).toBe(0);
    await expect.poll(labFile, { timeout: 15_000 }).toBe(before);
    await page.getByRole('button', { name: 'As text' }).click();
    expect(await text.count()).toBe(0);
  });

  it('goes on while the server is gone, and nothing is lost', async () => {
    const { port } = server;
    await server.close();
    try {
      const field = page.getByRole('textbox', { name: 'value of m_t' });
      await field.fill('270.0 g');
      await field.press('Enter');
      await page
        .getByText(/server does not answer/)
        .first()
        .waitFor({ timeout: 15_000 });
      expect(await labFile()).toContain('value: 260.0 g');
    } finally {
      server = await start(port);
    }
    await untilFileHas('value: 270.0 g');
  });

  it('shows what was changed both here and outside, and writes what a person chooses', async () => {
    const { port } = server;
    await server.close();
    try {
      const field = page.getByRole('textbox', { name: 'value of h_b' });
      await field.fill('1.11 m');
      await field.press('Enter');
      await page
        .getByText(/server does not answer/)
        .first()
        .waitFor({ timeout: 15_000 });
      const now = await labFile();
      await writeFile(
        join(folder, 'my-chain/lab.yaml'),
        now.replace('value: 1.05 m', 'value: 1.22 m').replace('value: 18.2 mm', 'value: 18.3 mm'),
      );
    } finally {
      server = await start(port);
    }
    const clash = page.getByRole('region', { name: 'The file was changed here and outside' });
    const choice = clash.getByRole('group', { name: 'quantities › h_b › value' });
    await choice.waitFor({ timeout: 20_000 });
    expect(await choice.getByText('1.11 m').count()).toBe(1);
    expect(await labFile()).toContain('value: 1.22 m');
    await choice.getByRole('radio', { name: /^here/ }).check();
    await clash.getByRole('button', { name: 'Go on with these' }).click();
    await untilFileHas('value: 1.11 m');
    expect(await labFile()).toContain('value: 18.3 mm');
    expect(await clash.count()).toBe(0);
  });

  it('switches an effect off to see the others without it, and the file stays as it is', async () => {
    await goToStage('Reconcile');
    await settled();
    const before = await labFile();
    await page.getByRole('switch', { name: 'rolling resistance' }).click();
    await page.getByText(/Switched off to see what happens/).waitFor();
    const row = page.getByRole('row').filter({ hasText: 'rolling resistance' });
    await row.getByText('switched off').waitFor({ timeout: 20_000 });
    expect(await labFile()).toBe(before);
    // A click, and then a look: the switch goes over with the next drawing of the screen, which may take a moment.
    await page.getByRole('switch', { name: 'rolling resistance' }).click();
    await expect
      .poll(() => page.getByRole('switch', { name: 'rolling resistance' }).isChecked(), { timeout: 15_000 })
      .toBe(true);
  });

  it('keeps changes to a shipped lab in the browser until a copy is asked for', async () => {
    await page.goto(server.address);
    await page.getByRole('link', { name: 'The long swing' }).click();
    const question = page.getByRole('textbox', { name: 'The question that the class answers' });
    await question.fill('How long does a wide swing take?');
    await question.blur();
    await page.getByText('kept in this browser').waitFor();
    await page.reload();
    await expect.poll(() => question.inputValue()).toBe('How long does a wide swing take?');
    await page.getByRole('button', { name: 'Keep a copy' }).click();
    await expect
      .poll(() => readFile(join(folder, 'my-long-swing/lab.yaml'), 'utf8').catch(() => ''), {
        timeout: 15_000,
      })
      .toContain('How long does a wide swing take?');
  });

  it.each(['light', 'dark'] as const)(
    'finds every screen accessible in the %s theme (WCAG 2.2 AA)',
    async (theme) => {
      await page.emulateMedia({ colorScheme: theme });
      await page.goto(server.address);
      await page.getByRole('heading', { level: 2 }).first().waitFor();
      expect(await violations()).toEqual([]);
      await openOwn();
      for (const stage of stages) {
        // By the rail, as a person goes: the ledger that is there already stays.
        await page.locator(`nav a[href$="/${stage}"]`).click();
        await page.getByRole('heading', { level: 2 }).first().waitFor();
        await expect.poll(() => page.locator('[data-busy="true"]').count(), { timeout: 60_000 }).toBe(0);
        expect(await violations(), stage).toEqual([]);
      }
      await page.getByRole('button', { name: 'As text' }).click();
      await page.getByRole('textbox', { name: 'The text of lab.yaml' }).waitFor();
      expect(await violations(), 'as text').toEqual([]);
      await page.getByRole('button', { name: 'As text' }).click();
    },
    180_000,
  );
});

/** What the engine finds wrong, each rule with the elements it is found at. */
async function violations(): Promise<readonly string[]> {
  await page.evaluate(axe.source);
  return page.evaluate<readonly string[]>(`axe
    .run(document, { runOnly: ['wcag2a', 'wcag2aa', 'wcag21a', 'wcag21aa', 'wcag22aa', 'best-practice'] })
    .then(({ violations }) => violations.map(({ id, nodes }) => id + ': ' + nodes.map(({ html, failureSummary }) => html.slice(0, 120) + ' ' + failureSummary).join(' | ')))`);
}
