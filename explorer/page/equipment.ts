import type { Asker } from '../asker.ts';
import type { ShownLab } from '../tasks/describe.ts';
import type { PageWords } from '../words/index.ts';
import { choice, element, problemList, section, showProblems } from './dom.ts';
import { quantityRow } from './quantity-row.ts';
import type { EquippedText, PageStore } from './state.ts';

export interface EquipmentParts {
  /** The lab as given, and what the page shows of it. */
  readonly given: Omit<EquippedText, 'kit'>;
  readonly lab: ShownLab;
  readonly words: PageWords['equipment'];
  readonly asker: Asker;
  readonly store: PageStore;
}

/** Kits, stations, and a field with a slider for each quantity. */
export function equipmentPart({ given, lab, words, asker, store }: EquipmentParts): HTMLElement {
  const problems = problemList();
  const quantities = element('div', { class: 'quantities' });
  let shown = lab;
  let rows: readonly ReturnType<typeof quantityRow>[] = [];
  const lay = (of: ShownLab): void => {
    shown = of;
    rows = of.quantities.map((quantity) => quantityRow(quantity, store));
    quantities.replaceChildren(...rows.map(({ row }) => row));
  };
  const write = (written: ReadonlyMap<string, string>): void => {
    store.change({ written });
    for (const row of rows) row.show();
  };
  const kits = choice(
    words.kit,
    [
      { value: '', says: words.asGiven },
      ...lab.kits.map(({ names, is }) => ({
        value: JSON.stringify(names),
        says: `${names.join(' + ')}${is === '' ? '' : `: ${is}`}`,
      })),
    ],
    (kit) => void equip(kit),
  );
  const equip = async (kit: string): Promise<void> => {
    const names = lab.kits.find((set) => JSON.stringify(set.names) === kit)?.names ?? [];
    const found = await asker.ask('equip', { text: given.text, kits: names });
    if (kits.select.value !== kit) return;
    showProblems(problems, found.ok ? [] : found.problems);
    if (!found.ok) return;
    stations.select.value = '';
    // Runs that were taken with other equipment say nothing about this one.
    const hasRuns = names.length === 0 && lab.runs > 0;
    store.change({
      equipped: { kit, text: found.value.text, files: hasRuns ? given.files : [] },
      written: new Map(),
      measured: hasRuns ? 'lab' : 'none',
      own: null,
    });
    lay(found.value.lab);
  };
  const stations = choice(
    words.station,
    [
      { value: '', says: words.asGiven },
      ...lab.stations.map(({ name, set }) => ({
        value: name,
        says: `${name}: ${set.map((one) => one.join(' = ')).join(', ')}`,
      })),
    ],
    (station) => write(new Map(shown.stations.find(({ name }) => name === station)?.set ?? [])),
  );
  const back = element('button', { type: 'button' }, words.back);
  back.addEventListener('click', () => {
    stations.select.value = '';
    const { kit } = store.get().equipped;
    kits.select.value = '';
    if (kit === '') write(new Map());
    else void equip('');
  });
  lay(lab);
  const part = section(
    words.heading,
    element('p', {}, words.about),
    ...(lab.kits.length > 0 ? [kits.field] : []),
    ...(lab.stations.length > 0 ? [stations.field] : []),
    problems,
    quantities,
    back,
  );
  part.id = 'equipment';
  return part;
}
