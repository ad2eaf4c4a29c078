import { fromText } from '../../src/figure/index.ts';
import type { Asker } from '../asker.ts';
import type { ShownLab } from '../tasks/describe.ts';
import type { PageLanguage, PageWords } from '../words/index.ts';
import { element, problemList, rich, section, showProblems, symbol } from './dom.ts';
import type { PageStore } from './state.ts';

export interface MarkParts {
  readonly lab: ShownLab;
  readonly words: PageWords['mark'];
  readonly language: PageLanguage;
  readonly asker: Asker;
  readonly store: PageStore;
}

/** What would give the numbers that somebody reports. */
export function markPart({ lab, words, language, asker, store }: MarkParts): HTMLElement {
  const fields = lab.results.map(({ name, is, unit }) => {
    const input = element('input', { type: 'text', autocomplete: 'off', id: `reported-${name}` });
    const label = element(
      'label',
      { for: input.id },
      symbol(name),
      is === '' ? '' : ` – ${is}`,
      unit === '' ? '' : ', ',
      ...rich(fromText(unit)),
    );
    return { name, input, row: element('div', { class: 'quantity' }, label, input) };
  });
  const problems = problemList();
  const answers = element('div', { id: 'marked', 'aria-live': 'polite' });
  const button = element('button', { type: 'submit' }, words.ask);
  const form = element('form', {}, ...fields.map(({ row }) => row), button);
  form.addEventListener('submit', (event) => {
    event.preventDefault();
    void mark();
  });
  const mark = async (): Promise<void> => {
    const reported = fields.flatMap(({ name, input }) =>
      input.value.trim() === '' ? [] : [{ result: name, value: input.value.trim() }],
    );
    button.disabled = true;
    answers.replaceChildren(element('p', { class: 'quiet' }, words.working));
    const { written } = store.get();
    const source = { ...store.source(), settings: [...written], without: [] };
    const marked = await asker.ask('mark', { source, station: '', groups: null, reported, language });
    button.disabled = false;
    showProblems(problems, marked.ok ? marked.warnings : marked.problems);
    answers.replaceChildren();
    if (!marked.ok) return;
    answers.append(
      ...marked.value.bands.map(({ says }) => element('p', {}, ...rich(fromText(says)))),
      element(
        'ol',
        { class: 'causes' },
        ...marked.value.causes.map(({ name, share, helps }) =>
          element('li', {}, element('strong', {}, `${name}, ${Math.round(100 * share)} %`), ` ${helps}`),
        ),
      ),
    );
  };
  return section(words.heading, element('p', {}, words.about), form, problems, answers);
}
