import { writeAtSlider } from '../../app/stages/apparatus/slider-range.ts';
import type { ShownLab, ShownQuantity } from '../tasks/describe.ts';
import { choice, element, section, symbol } from './dom.ts';
import type { PageStore } from './state.ts';

/** Kits, stations, and a field with a slider for each quantity. */
export function equipmentPart(lab: ShownLab, store: PageStore): HTMLElement {
  const rows = lab.quantities.map((quantity) => quantityRow(quantity, store));
  const show = (): void => {
    for (const row of rows) row.show();
  };
  const chosen = { kit: '', station: '' };
  const choose = (part: Partial<typeof chosen>): void => {
    Object.assign(chosen, part);
    const kit = lab.kits.find(({ name }) => name === chosen.kit);
    const station = lab.stations.find(({ name }) => name === chosen.station);
    const written = new Map([...(station?.set ?? []), ...(kit?.set ?? [])]);
    // Runs with the lab's own equipment say nothing about a kit.
    const isOther = kit !== undefined && store.get().measured === 'lab';
    store.change({ written, ...(isOther ? { measured: 'none' } : {}) });
    show();
  };
  const kits = choice(
    'Equipment',
    [
      { value: '', says: 'as given' },
      ...lab.kits.map(({ name, is, needsMore }) => ({
        value: name,
        says: `${name}${is === '' ? '' : `: ${is}`}${needsMore ? ' (needs other steps: see the teacher guide)' : ''}`,
        isClosed: needsMore,
      })),
    ],
    (kit) => choose({ kit }),
  );
  const stations = choice(
    'Station',
    [
      { value: '', says: 'as given' },
      ...lab.stations.map(({ name, set }) => ({
        value: name,
        says: `${name}: ${set.map((one) => one.join(' = ')).join(', ')}`,
      })),
    ],
    (station) => choose({ station }),
  );
  const back = element('button', { type: 'button' }, 'Back to the values of the lab');
  back.addEventListener('click', () => {
    kits.select.value = '';
    stations.select.value = '';
    choose({ kit: '', station: '' });
  });
  return section(
    'Your equipment',
    element('p', {}, 'Type your own values with their units, or move the sliders: everything below follows.'),
    ...(lab.kits.length > 0 ? [kits.field] : []),
    ...(lab.stations.length > 0 ? [stations.field] : []),
    element('div', { class: 'quantities' }, ...rows.map(({ row }) => row)),
    back,
  );
}

function quantityRow(
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
  field.addEventListener('input', () => set(field.value.trim()));
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
