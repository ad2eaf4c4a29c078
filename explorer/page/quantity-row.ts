import { writeAtSlider } from '../../app/stages/apparatus/slider-range.ts';
import type { ShownQuantity } from '../tasks/describe.ts';
import { element, symbol } from './dom.ts';
import type { PageStore } from './state.ts';

/** A field for a quantity's value with its unit, and a slider where one makes sense. */
export function quantityRow(
  quantity: ShownQuantity,
  store: PageStore,
): { readonly row: HTMLElement; readonly show: () => void } {
  const { name, is, written, slider, unit } = quantity;
  const id = `quantity-${name}`;
  const field = element('input', {
    id,
    type: 'text',
    value: written,
    autocomplete: 'off',
    spellcheck: 'false',
  });
  const hand =
    slider === null
      ? null
      : element('input', {
          type: 'range',
          'aria-label': `${name}, ${is}`,
          'data-quantity': name,
          min: String(slider.low),
          max: String(slider.high),
          step: String(slider.step),
        });
  const current = (): string => store.get().written.get(name) ?? written;
  const placeHand = (text: string): void => {
    const number = Number.parseFloat(text);
    const isInItsUnit = text.replace(/^[-+\d.eE\s]+/, '').trim() === unit;
    if (hand === null || !Number.isFinite(number) || !isInItsUnit) return;
    hand.value = String(number);
    hand.setAttribute('aria-valuetext', text);
  };
  const set = (text: string): void => {
    const next = new Map(store.get().written);
    if (text === written) next.delete(name);
    else next.set(name, text);
    placeHand(text);
    row.dataset.changed = String(next.has(name));
    store.change({ written: next });
  };
  // A decimal comma is taken as one: '1,25 m'.
  field.addEventListener('input', () => set(field.value.trim().replace(/^([-+]?\d+),(?=\d)/, '$1.')));
  hand?.addEventListener('input', () => {
    if (slider === null) return;
    field.value = writeAtSlider(hand.valueAsNumber, slider, unit);
    set(field.value);
  });
  const label = element('label', { for: id }, symbol(name), is === '' ? '' : ` – ${is}`);
  const row = element('div', { class: 'quantity' }, label, field, ...(hand === null ? [] : [hand]));
  const show = (): void => {
    field.value = current();
    placeHand(field.value);
    row.dataset.changed = String(store.get().written.has(name));
  };
  show();
  return { row, show };
}
