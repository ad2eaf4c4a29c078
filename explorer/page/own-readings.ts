import type { SourceFile } from '../../app/compute/source.ts';
import { problem } from '../../src/problem/index.ts';
import type { Asker } from '../asker.ts';
import type { PageWords } from '../words/index.ts';
import { element, problemList, section, showProblems } from './dom.ts';
import type { PageStore } from './state.ts';

/** More than any school's logger writes in a run. */
const MOST_BYTES = 20e6;

/** A place for a file of readings taken with one's own apparatus. */
export function ownReadingsPart(words: PageWords['readings'], asker: Asker, store: PageStore): HTMLElement {
  const problems = problemList();
  const says = element('ul', { class: 'quiet', 'aria-live': 'polite', id: 'recognised', lang: 'en' });
  let count = 0;
  const take = async (taken: File | undefined): Promise<void> => {
    if (taken === undefined) return;
    says.replaceChildren();
    if (taken.size > MOST_BYTES) {
      const size = `${Math.ceil(taken.size / 1e6)} MB`;
      const found = problem(
        'too-large',
        { file: taken.name },
        `The file has ${size}; up to ${MOST_BYTES / 1e6} MB are read.`,
        'Export the part of the run that counts.',
      );
      showProblems(problems, [found]);
      return;
    }
    count += 1;
    const turn = count;
    // The name goes into the lab as a path: only its ending, which tells how it is read, is kept.
    const ending = /\.[a-z0-9]{1,5}$/i.exec(taken.name)?.[0] ?? '.txt';
    const bytes = new Uint8Array(await taken.arrayBuffer());
    const path = `trials/own-${turn}${ending}`;
    const file: SourceFile = { path, digest: path, from: { bytes } };
    const { equipped } = store.get();
    const source = { text: equipped.text, files: [], settings: [], without: [] };
    const question = { source, file, name: taken.name };
    const read = await asker.ask('own file', question);
    // With other equipment chosen meanwhile the file would be read otherwise.
    if (turn !== count || store.get().equipped !== equipped) return;
    showProblems(problems, read.ok ? read.warnings : read.problems);
    if (!read.ok) return;
    says.replaceChildren(...read.value.sentences.map((sentence) => element('li', {}, sentence)));
    store.change({ own: { ...read.value, file, name: taken.name }, measured: 'own' });
  };
  const input = element('input', {
    type: 'file',
    id: 'own-file',
    accept: '.csv,.tsv,.txt,.dat,.xlsx,.ods,text/*',
  });
  input.addEventListener('change', () => void take(input.files?.[0]));
  const area = element('div', { class: 'drop' }, element('label', { for: 'own-file' }, words.drop), input);
  area.addEventListener('dragover', (event) => {
    event.preventDefault();
    area.dataset.over = 'true';
  });
  area.addEventListener('dragleave', () => delete area.dataset.over);
  area.addEventListener('drop', (event) => {
    event.preventDefault();
    delete area.dataset.over;
    void take(event.dataTransfer?.files[0]);
  });
  return section(words.heading, element('p', {}, words.about), area, problems, says);
}
