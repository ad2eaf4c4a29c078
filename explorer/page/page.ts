import { askNewest, createAsker } from '../asker.ts';
import type { ShownLab } from '../tasks/describe.ts';
import { element, problemList, section, showProblems } from './dom.ts';
import { equipmentPart } from './equipment.ts';
import { figuresPart } from './figures.ts';
import { readLabData } from './lab-data.ts';
import { ledgerPart } from './ledger.ts';
import { markPart } from './mark.ts';
import { ownReadingsPart } from './own-readings.ts';
import { createStore } from './state.ts';

/** A hand that moves pauses for less than this between two changes, ms. */
const PAUSE = 400;

/** Reads the lab that the file carries, and shows it. */
export async function showPage(): Promise<void> {
  const page = document.getElementById('page');
  if (page === null) return;
  const program = document.getElementById('program')?.textContent ?? '';
  const data = readLabData();
  const store = createStore(data.text, data.files);
  const follows = createAsker(program);
  page.replaceChildren(element('p', { role: 'status' }, 'Reading the lab …'));
  const described = await follows.ask('describe', { source: store.source() });
  const problems = problemList();
  if (!described.ok) {
    page.replaceChildren(element('h1', {}, 'This lab cannot be read'), problems);
    showProblems(problems, described.problems);
    return;
  }
  const lab = described.value;
  if (lab.runs === 0) store.change({ measured: 'none' });
  // What takes longer has a worker of its own, so that the hand is followed meanwhile.
  const slow = createAsker(program);
  const ledger = ledgerPart(lab, store, problems);
  const figures = figuresPart();
  page.replaceChildren(
    ...introduction(lab),
    element(
      'div',
      { class: 'bench' },
      equipmentPart(lab, store),
      element('div', {}, ledger.part, figures.part),
    ),
    ownReadingsPart(data.text, slow, store),
    markPart(lab, slow, store),
    element('footer', {}, `Made by ${data.madeBy}. Digest of the sources: ${data.digest}`),
  );
  let version = 0;
  let settled = -1;
  let pause: ReturnType<typeof setTimeout> | undefined;
  const showFigures = askNewest(follows, 'figures', (found) => {
    if (found.ok) figures.show(found.value);
  });
  const showAtOnce = askNewest(follows, 'ledger', (found) => {
    if (settled === version) return;
    showProblems(problems, found.ok ? [] : found.problems);
    if (found.ok) ledger.show(found.value.ledgers, false);
  });
  const showComplete = async (asked: number): Promise<void> => {
    const found = await slow.ask('ledger', { source: store.source(), pass: 'complete' });
    if (asked !== version) return;
    settled = version;
    showProblems(problems, found.ok ? [] : found.problems);
    if (found.ok) ledger.show(found.value.ledgers, true);
  };
  const follow = (): void => {
    version += 1;
    const asked = version;
    const source = store.source();
    const isDark = matchMedia('(prefers-color-scheme: dark)').matches;
    ledger.wait();
    showFigures({ source, width: figures.width(), isDark });
    showAtOnce({ source, pass: 'at once' });
    clearTimeout(pause);
    pause = setTimeout(() => void showComplete(asked), PAUSE);
  };
  store.subscribe(follow);
  follow();
}

function introduction({ title, question, about, language, cautions, derivation }: ShownLab): HTMLElement[] {
  const spoken = (text: string): HTMLElement => element('p', { lang: language }, text);
  return [
    element('h1', { lang: language }, title),
    element('p', { class: 'question', lang: language }, question),
    ...(about === '' ? [] : [spoken(about)]),
    ...(cautions.length === 0
      ? []
      : [
          section(
            'Cautions',
            element(
              'ul',
              { class: 'cautions', lang: language },
              ...cautions.map((one) => element('li', {}, one)),
            ),
          ),
        ]),
    ...(derivation.length === 0
      ? []
      : [
          element(
            'details',
            {},
            element('summary', {}, 'The theory, line by line'),
            element(
              'ol',
              { lang: language },
              ...derivation.map(({ line, because }) =>
                element('li', {}, element('code', {}, line), because === '' ? '' : ` ${because}`),
              ),
            ),
          ),
        ]),
  ];
}
