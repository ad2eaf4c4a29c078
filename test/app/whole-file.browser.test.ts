import { readFile } from 'node:fs/promises';
import { join } from 'node:path';
import { afterAll, afterEach, beforeAll, describe, expect, it } from 'vitest';
import { goToStage, type OpenedApp, openApp, openLab } from './open-app.ts';

/** What the lab file can say is said by fields alone; the file is looked at only to see that it was written. */
let app: OpenedApp;
let begun = '';

beforeAll(async () => {
  app = await openApp({ 'my-chain': 'tow-chain' });
  begun = await labFile();
  await openLab(app, 'my-chain');
});
afterAll(() => app?.close());
afterEach(() => {
  expect(app.errors).toEqual([]);
});

const labFile = (): Promise<string> => readFile(join(app.folder, 'my-chain/lab.yaml'), 'utf8');
const untilFileHas = (text: RegExp) => expect.poll(labFile, { timeout: 20_000 }).toMatch(text);

async function type(name: string, text: string): Promise<void> {
  const field = app.page.getByRole('textbox', { name, exact: true });
  await field.fill(text);
  await field.press('Enter');
}

async function choose(name: string, option: string): Promise<void> {
  await app.page.getByRole('combobox', { name, exact: true }).selectOption(option);
}

/** Words for those who only hear the screen are set apart: a blank may stand before their colon. */
const press = (name: string) =>
  app.page.getByRole('button', { name: new RegExp(`^${name.replace(': ', ' ?: ')}$`) }).click();

describe('the lab file, without seeing it', () => {
  it('has kits: a value with an uncertainty of its own, an instrument and a step that are other', async () => {
    await goToStage(app, 'The apparatus');
    await type('Another kit', 'slow gate');
    await choose('another quantity with slow gate', 'R');
    await type('R with slow gate', '20 mm');
    await untilFileHas(/slow gate: +\{ set: \{ R: 20 mm \} \}/);
    await press('± of its own uncertainty of R with slow gate');
    const kit = app.page
      .locator('.instrument')
      .filter({ has: app.page.getByRole('heading', { name: 'slow gate' }) });
    await kit.getByRole('combobox', { name: 'How well R is known' }).selectOption('u');
    await kit.getByRole('textbox', { name: 'standard u of R' }).fill('0.3 mm');
    await untilFileHas(/R: \{ value: 20 mm, u: 0\.3 mm \}/);
    await kit.getByText('Instruments and steps that are other').click();
    await choose('An instrument that is set otherwise with slow gate', 'wheel gate');
    await kit.getByRole('button', { name: 'more settings of wheel gate with slow gate' }).click();
    await type('clock of wheel gate with slow gate', '1 ms');
    await untilFileHas(/clock: 1 ms/);
    await choose('A step of each run that is other with slow gate', 'keep');
    await kit.getByRole('button', { name: 'more settings of keep with slow gate' }).click();
    await type('while of keep with slow gate', 'x > 0.3 m and x < 0.9 m');
    await untilFileHas(/while: x > 0\.3 m and x < 0\.9 m/);
  }, 90_000);

  it('has apparatus: another name for a symbol and an instrument, scatter from run to run, errors that go together', async () => {
    await press('More about m_t');
    await press('Rename m_t');
    await type('New name of m_t', 'm_trolley');
    await untilFileHas(/k2: .*theory: m_c\*g\/\(L\*\(m_trolley \+ m_c\)\)/);
    await press('More about h_b');
    await choose('h_b from run to run', 'within');
    await type('lies within ±', '3 mm');
    await untilFileHas(/each run: \{ within: 3 mm \}/);
    await press('Name a pair');
    await type('correlation', '0.25');
    await untilFileHas(/between: \[[^\]]+\][\s\S]*is: 0\.25/);
    await press('Rename wheel gate');
    await type('New name of wheel gate', 'gate');
    await untilFileHas(/motion from edges: \{ of: gate,/);
    await untilFileHas(/reads: \{ gate: /);
  }, 90_000);

  it('has a model: a table, a jump, a line that holds only nearly', async () => {
    await goToStage(app, 'The model');
    await type('Another table, by its symbol', 'pull');
    await app.page.getByRole('textbox', { name: 'Points, one in a line' }).fill('0 0\n0.5 2\n1.5 2.5');
    await untilFileHas(
      /points: \[ ?\[ ?0, 0 ?\], \[ ?0\.5, 2 ?\], \[ ?1\.5, 2\.5 ?\] ?\]|- \[ ?1\.5, 2\.5 ?\]/,
    );
    await type('Something else that jumps, in words', 'it bounces');
    await type('it bounces, when', 'x > 5 m');
    await type('x after it bounces', 'x/2');
    await untilFileHas(/jumps:[\s\S]*when: x > 5 m[\s\S]*x: x\/2/);
    await press('Holds only nearly: line 4');
    await type('line 4 holds nearly, within', '1 %');
    await untilFileHas(/within: 1 %/);
  }, 90_000);

  it('has a reduction: another step with its settings in its place, and a result that it gives', async () => {
    await goToStage(app, 'The reduction');
    await choose('Another step of each run', 'peak');
    await type('of of peak, step 4 of each run', 'v');
    await type('gives, under the name of peak, step 4 of each run', 'v_top');
    await untilFileHas(/- peak: \{ of: v, gives: v_top \}/);
    await press('Earlier: step 4 of each run');
    await untilFileHas(/- peak: [\s\S]*- line:/);
    await type('Another result, by the name that a step gives', 'v_top');
    await type('unit of v_top', 'm/s');
    await type('what it is of v_top', 'greatest speed');
    await untilFileHas(/v_top: .*greatest speed/);
    await untilFileHas(/v_top: .*unit: "?m\/s/);
    await expect.poll(() => app.page.locator('.rail .rail-errors').count()).toBe(0);
  }, 90_000);

  it('has a classroom: a slip, stations that are drawn, and what the class finds together', async () => {
    await goToStage(app, 'Classroom');
    await type('Another slip, in a few words', 'mass forgotten');
    await type('what goes wrong : mass forgotten', 'the hook is not weighed');
    await choose('another quantity reckoned with the slip mass forgotten', 'm_trolley');
    await type('m_trolley reckoned with the slip mass forgotten', 'm_trolley - 0.004*m_c');
    await untilFileHas(/m_trolley: m_trolley - 0\.004\*m_c/);
    await choose('Another quantity that is drawn', 'L');
    await type('from', '0.9 m');
    await type('to', '1.5 m');
    await type('in whole steps of', '0.1 m');
    await untilFileHas(/L: \{ from: 0\.9 m, to: 1\.5 m, step: 0\.1 m \}/);
    await press('Begin with the mean of k2');
    await untilFileHas(/k2_class/);
  }, 90_000);

  it('is as it was, to the byte, once everything is undone from another stage', async () => {
    await goToStage(app, 'The question');
    const undo = app.page.getByRole('button', { name: /^Undo/ });
    while (await undo.isEnabled()) await app.page.keyboard.press('Control+z');
    await expect.poll(labFile, { timeout: 20_000 }).toBe(begun);
  }, 90_000);
});
