import { type BaseQuantity, type Kit, type Lab, readDocument, readLab } from '../lab/index.ts';
import { fail, type Outcome, problem, succeed } from '../problem/index.ts';
import { formatNumber, fromSI } from '../quantity/index.ts';
import { editLabText } from './edit-lab-text.ts';
import { isPlainMap, type LabEdit, type PlainMap, type PlainValue } from './lab-edit.ts';

/** Keys that give a quantity its value in another way than the kit does. */
const OTHER_SOURCES: readonly string[] = ['at', 'observed', 'value', 'from'];
const UNCERTAINTIES: readonly string[] = ['u', 'within', 'reading', 'expanded'];

/**
 * The text of a lab with kits in place of its own equipment, as `Lab.equip` has it: without its real runs, which were
 * taken with other equipment, and without kits.
 *
 * @param names of kits that may be combined
 * @returns fails where there is no such kit, or the kits break the lab
 */
export function equipText(text: string, names: readonly string[]): Outcome<string> {
  if (names.length === 0) return succeed(text);
  const read = readLab(text, 'lab.yaml');
  if (!read.ok) return read;
  const document = readDocument(text, 'lab.yaml');
  if (!document.ok) return document;
  const kits: Kit[] = [];
  for (const name of names) {
    const kit = read.value.kits.find((one) => one.name === name);
    if (kit === undefined)
      return fail(problem('unknown-kit', { file: 'lab.yaml' }, `"${name}" is not a kit of this lab.`));
    kits.push(kit);
  }
  const equipped = read.value.equip(kits);
  if (!equipped.ok) return equipped;
  const data = toPlain(document.value.data);
  const set = kits.flatMap((kit) => kit.set.map(({ quantity }) => ({ kit: kit.name, quantity })));
  const planned = at(data, ['plan', 'settings']);
  const edits: LabEdit[] = [
    ...set.map(({ kit, quantity }): LabEdit => {
      const to = entryOf(data, kit, quantity, equipped.value);
      return { kind: 'set', at: ['quantities', quantity.name], to };
    }),
    ...set.flatMap(({ quantity }): LabEdit[] =>
      isPlainMap(planned) && Object.hasOwn(planned, quantity.name)
        ? [{ kind: 'remove', at: ['plan', 'settings', quantity.name] }]
        : [],
    ),
    ...partsOf(kits, equipped.value),
    ...['kits', 'trials', 'infer'].flatMap((key): LabEdit[] =>
      at(data, [key]) === undefined ? [] : [{ kind: 'remove', at: [key] }],
    ),
  ];
  return editLabText(text, edits);
}

/** The quantity as it stands in the file, with the kit's value and, where the kit states one, its uncertainty. */
function entryOf(data: PlainValue, kit: string, quantity: BaseQuantity, equipped: Lab): PlainMap {
  const own = at(data, ['quantities', quantity.name]);
  const given = at(data, ['kits', kit, 'set', quantity.name]);
  const stated = isPlainMap(given) && UNCERTAINTIES.some((key) => Object.hasOwn(given, key)) ? given : null;
  const dropped = stated === null ? OTHER_SOURCES : [...OTHER_SOURCES, ...UNCERTAINTIES];
  const kept = Object.entries(isPlainMap(own) ? own : {}).filter(([key]) => !dropped.includes(key));
  const value = isPlainMap(given) ? given.value : given;
  const entry = { ...Object.fromEntries(kept), value: value ?? '', ...stated };
  if (UNCERTAINTIES.some((key) => Object.hasOwn(entry, key))) return entry;
  const estimate = equipped.quantities.base.find(({ name }) => name === quantity.name)?.estimate;
  const u = estimate?.standardUncertainty ?? 0;
  if (!(u > 0)) return entry;
  const number = formatNumber(fromSI(u, quantity.unit, 'interval'), { significant: 12 });
  return { ...entry, u: `${number} ${quantity.unit.text}`.trim() };
}

/** Instruments and steps as the equipped lab has them, where a kit changes them. */
function partsOf(kits: readonly Kit[], { written }: Lab): readonly LabEdit[] {
  const steps = (list: Lab['written']['eachRun']): PlainValue =>
    list.map(({ name, settings }) => ({ [name]: toPlain(settings) }));
  const isChanged = (part: 'instruments' | 'reduction') =>
    kits.some(({ change }) => change[part] !== undefined);
  return [
    ...(isChanged('instruments')
      ? [{ kind: 'set', at: ['instruments'], to: toPlain(Object.fromEntries(written.instruments)) } as const]
      : []),
    ...(isChanged('reduction')
      ? [
          {
            kind: 'set',
            at: ['reduction'],
            to: {
              ...(written.eachRun.length === 0 ? {} : { 'each run': steps(written.eachRun) }),
              ...(written.acrossRuns.length === 0 ? {} : { 'across runs': steps(written.acrossRuns) }),
            },
          } as const,
        ]
      : []),
  ];
}

function at(data: PlainValue, path: readonly string[]): PlainValue | undefined {
  return path.reduce<PlainValue | undefined>(
    (there, key) => (isPlainMap(there) && Object.hasOwn(there, key) ? there[key] : undefined),
    data,
  );
}

/** What was read from YAML is plain; anything else in it is nothing. */
function toPlain(value: unknown): PlainValue {
  if (value === null || typeof value === 'string' || typeof value === 'number' || typeof value === 'boolean')
    return value;
  if (Array.isArray(value)) return value.map(toPlain);
  if (typeof value !== 'object') return null;
  return Object.fromEntries(Object.entries(value).map(([key, item]) => [key, toPlain(item)]));
}
