import { askNewest, createAsker } from '../asker.ts';
import { wordsOf } from '../words/index.ts';
import { cautionsPart } from './cautions.ts';
import { problemList, showProblems } from './dom.ts';
import { equipmentPart } from './equipment.ts';
import { figuresPart } from './figures.ts';
import { readLabData } from './lab-data.ts';
import { ledgerPart } from './ledger.ts';
import { markPart } from './mark.ts';
import { ownReadingsPart } from './own-readings.ts';
import { createStore } from './state.ts';

/** A hand that moves pauses for less than this between two changes, ms. */
const PAUSE = 400;

/** Reads the lab that the file carries, and brings the page that it was made with to life. */
export async function showPage(): Promise<void> {
  const bench = document.querySelector('.bench');
  const own = document.getElementById('own');
  const waiting = document.getElementById('waiting');
  if (bench === null || own === null || waiting === null) return;
  const program = document.getElementById('program')?.textContent ?? '';
  const { text, files, language, decimalMark } = readLabData();
  const words = wordsOf(language);
  const given = { text, files };
  const store = createStore(given);
  const follows = createAsker(program);
  waiting.textContent = words.reading;
  waiting.setAttribute('role', 'status');
  const described = await follows.ask('describe', { source: store.source() });
  const problems = problemList();
  if (!described.ok) {
    waiting.textContent = words.unreadable;
    waiting.after(problems);
    showProblems(problems, described.problems);
    return;
  }
  const lab = described.value;
  if (lab.runs === 0) store.change({ measured: 'none' });
  // What takes longer has a worker of its own, so that the hand is followed meanwhile.
  const slow = createAsker(program);
  const ledger = ledgerPart(lab, store, words.ledger, problems);
  const figures = figuresPart();
  bench.append(equipmentPart({ given, lab, words: words.equipment, asker: slow, store }), ledger.part);
  own.append(
    ownReadingsPart(words.readings, slow, store),
    markPart({ lab, words: words.mark, language, asker: slow, store }),
  );
  waiting.remove();
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
  const askCautions = () => slow.ask('cautions', { source: store.source(), language, decimalMark });
  let showCautions: ReturnType<typeof cautionsPart> | null = null;
  const showComplete = async (asked: number): Promise<void> => {
    const found = await slow.ask('ledger', { source: store.source(), pass: 'complete', language });
    if (asked !== version) return;
    settled = version;
    showProblems(problems, found.ok ? [] : found.problems);
    if (found.ok) ledger.show(found.value.ledgers, true);
    const cautions = await askCautions();
    if (asked === version && cautions.ok) showCautions?.(cautions.value.items);
  };
  const follow = (): void => {
    version += 1;
    const asked = version;
    const source = store.source();
    const isDark = matchMedia('(prefers-color-scheme: dark)').matches;
    ledger.wait();
    showFigures({ source, width: figures.width(), isDark, language, decimalMark });
    showAtOnce({ source, pass: 'at once', language });
    clearTimeout(pause);
    pause = setTimeout(() => void showComplete(asked), PAUSE);
  };
  const asGiven = askCautions().then((found) => {
    if (found.ok) showCautions = cautionsPart(found.value.items);
  });
  store.subscribe(follow);
  follow();
  await asGiven;
}
