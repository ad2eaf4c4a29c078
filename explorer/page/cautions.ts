import { element } from './dom.ts';

/**
 * The cautions that the page was made with, kept in step with the equipment.
 *
 * @param asGiven what the engine says of the lab as given; for that the page's own words stay, with their formulas set
 */
export function cautionsPart(asGiven: readonly string[]): (items: readonly string[]) => void {
  const list = document.querySelector('#page > .caution > ul');
  list?.setAttribute('aria-live', 'polite');
  const given = [...(list?.children ?? [])];
  let shown = asGiven;
  return (items) => {
    if (items.join('\n') === shown.join('\n')) return;
    shown = items;
    const isAsGiven = items.join('\n') === asGiven.join('\n');
    list?.replaceChildren(...(isAsGiven ? given : items.map((text) => element('li', {}, text))));
  };
}
