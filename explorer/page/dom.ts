import { type RichText, symbolText } from '../../src/figure/index.ts';
import { formatPlace, type Problem } from '../../src/problem/index.ts';

type Child = Node | string;

/** An element with attributes and children. Texts are set as text, whatever they hold. */
export function element<Tag extends keyof HTMLElementTagNameMap>(
  tag: Tag,
  attributes: Readonly<Record<string, string>>,
  ...children: readonly Child[]
): HTMLElementTagNameMap[Tag] {
  const made = document.createElement(tag);
  for (const [name, value] of Object.entries(attributes)) made.setAttribute(name, value);
  made.append(...children);
  return made;
}

/** A part of the page under a heading of its own. */
export function section(heading: string, ...children: readonly Child[]): HTMLElement {
  return element('section', { 'aria-label': heading }, element('h2', {}, heading), ...children);
}

/** Exponents, indices and symbols in italics, as the figures have them. */
export function rich(text: RichText): readonly Node[] {
  return text.map(({ text: written, style, level }) => {
    const set = style === 'italic' ? element('i', {}, written) : document.createTextNode(written);
    if (level === 'base') return set;
    return element(level === 'raised' ? 'sup' : 'sub', {}, set);
  });
}

/** The symbol of a quantity; a screen reader hears the name of the lab file. */
export function symbol(name: string): HTMLElement {
  return element(
    'span',
    {},
    element('span', { 'aria-hidden': 'true' }, ...rich(symbolText(name))),
    element('span', { class: 'unseen' }, name),
  );
}

/** A choice among a few. */
export function choice(
  label: string,
  options: readonly { readonly value: string; readonly says: string }[],
  onChoose: (value: string) => void,
): { readonly field: HTMLElement; readonly select: HTMLSelectElement } {
  const select = element(
    'select',
    {},
    ...options.map(({ value, says }) => element('option', { value }, says)),
  );
  select.addEventListener('change', () => onChoose(select.value));
  return { field: element('label', { class: 'choice' }, `${label} `, select), select };
}

/** Messages: where, what was found, what to try. */
export function showProblems(place: HTMLElement, problems: readonly Problem[]): void {
  place.replaceChildren(
    ...problems.map(({ place: at, message, tryThis, severity }) => {
      const where = formatPlace(at);
      const says = [where === '' ? '' : `${where}: `, message, tryThis === undefined ? '' : ` ${tryThis}`];
      // Messages of the engine are English in every language of the page.
      return element('li', { 'data-severity': severity, lang: 'en' }, says.join(''));
    }),
  );
}

/** A place for messages that is read out when they change. */
export function problemList(): HTMLElement {
  return element('ul', { class: 'problems', 'aria-live': 'polite' });
}
