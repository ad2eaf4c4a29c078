import type { LedgerRow } from '../../app/ledger/ledger-rows.ts';
import { fromText } from '../../src/figure/index.ts';
import type { ShownLab } from '../tasks/describe.ts';
import type { ShownLedger } from '../tasks/ledger.ts';
import type { PageWords } from '../words/index.ts';
import { choice, element, rich, section, symbol } from './dom.ts';
import type { Measured, PageStore } from './state.ts';

export interface LedgerPart {
  readonly part: HTMLElement;
  /** Tells that what is shown is old. */
  readonly wait: () => void;
  readonly show: (ledgers: readonly ShownLedger[], isSettled: boolean) => void;
}

/** The gap ledger of each result, with a switch for each effect. */
export function ledgerPart(
  lab: ShownLab,
  store: PageStore,
  words: PageWords['ledger'],
  problems: HTMLElement,
): LedgerPart {
  const tables = element('div', { class: 'ledgers', id: 'ledgers' });
  const measured = choice(words.heldAgainst, [], (value) => {
    if (value === 'lab' || value === 'none' || value === 'own') store.change({ measured: value });
  });
  const offer = (): void => {
    const { own, measured: now, equipped } = store.get();
    const offers: readonly (readonly [Measured, string])[] = [
      ...(lab.runs === 0 || equipped.kit !== '' ? [] : [['lab', words.labRuns(lab.runs)] as const]),
      ...(own === null ? [] : [['own', words.ownRuns(own.name)] as const]),
      ['none', words.nothing],
    ];
    measured.select.replaceChildren(...offers.map(([value, says]) => element('option', { value }, says)));
    measured.select.value = now === 'lab' && lab.runs === 0 ? 'none' : now;
  };
  store.subscribe(offer);
  offer();
  return {
    part: section(words.heading, measured.field, effectSwitches(lab, store, words.effects), problems, tables),
    wait() {
      tables.dataset.settled = 'false';
    },
    show(ledgers, isSettled) {
      tables.dataset.settled = String(isSettled);
      tables.replaceChildren(...ledgers.map((one) => tableOf(one, words.inUnit)));
    },
  };
}

function effectSwitches(lab: ShownLab, store: PageStore, summary: string): HTMLElement {
  const switches = lab.effects.map(({ name, is }) => {
    const box = element('input', { type: 'checkbox', role: 'switch', checked: '' });
    box.addEventListener('change', () => {
      const without = new Set(store.get().without);
      if (box.checked) without.delete(name);
      else without.add(name);
      store.change({ without });
    });
    return element('li', {}, element('label', {}, box, ` ${name}`), element('p', { class: 'quiet' }, is));
  });
  if (switches.length === 0) return element('div', {});
  return element(
    'details',
    {},
    element('summary', {}, summary),
    element('ul', { class: 'effects' }, ...switches),
  );
}

function tableOf(
  { result, is, unit, group, rows, reach, verdict }: ShownLedger,
  inUnit: string,
): HTMLElement {
  return element(
    'table',
    { class: 'ledger', 'data-result': result },
    element(
      'caption',
      {},
      symbol(result),
      is === '' ? '' : ` – ${is}`,
      unit === '' ? '' : inUnit,
      ...rich(fromText(unit)),
      group === null || group === '' ? '' : ` (${group})`,
      ...(verdict === '' ? [] : [element('span', { class: 'verdict' }, verdict)]),
    ),
    element('tbody', {}, ...rows.map((row) => rowOf(row, reach))),
  );
}

function rowOf(row: LedgerRow, [low, high]: readonly [number, number]): HTMLElement {
  const place = (value: number): number => (100 * (value - low)) / (high - low);
  const from = place(row.from);
  const to = place(row.to);
  const lane = element('div', { class: 'lane' });
  const put = (name: string, left: number, width: number | null): void => {
    const mark = element('span', { class: name });
    mark.style.left = `${left}%`;
    if (width !== null) mark.style.width = `${width}%`;
    lane.append(mark);
  };
  if (row.from === row.to) put('total', to, null);
  else put(row.to > row.from ? 'bar up' : 'bar down', Math.min(from, to), Math.abs(to - from));
  const u = (100 * row.standardUncertainty) / (high - low);
  if (u > 0) put('whisker', to - u, 2 * u);
  return element(
    'tr',
    { 'data-kind': row.kind },
    element('th', { scope: 'row' }, row.label),
    element('td', { class: 'track', 'aria-hidden': 'true' }, lane),
    element('td', { class: 'number' }, ...rich(fromText(row.printed))),
  );
}
