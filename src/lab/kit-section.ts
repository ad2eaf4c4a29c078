import type { Outcome, Place, Problem } from '../problem/index.ts';
import { fail, nearestName, problem, succeed } from '../problem/index.ts';
import type { Estimate } from '../quantity/index.ts';
import { sameDimension } from '../quantity/index.ts';
import type { WrittenChange } from './change-forms.ts';
import type { LabDocument, Path } from './document.ts';
import { readSetting, type Setting } from './effect-section.ts';
import { readEstimate } from './estimate-form.ts';
import type { KitForm, LabForm } from './form.ts';
import { overlayDocument } from './overlay-document.ts';
import type { Quantities } from './quantity-section.ts';

/** An alternative set of equipment. */
export interface Kit {
  readonly name: string;
  readonly is: string;
  readonly set: readonly Setting[];
  /** Value and uncertainty of each quantity that is set, by symbol: its own, or the lab's uncertainty. */
  readonly estimates: ReadonlyMap<string, Estimate>;
  /** Changed instruments and steps, as written. */
  readonly change: WrittenChange;
  /** Names of kits that it may be combined with; told by either of the two. */
  readonly with: ReadonlySet<string>;
  readonly place: Place;
}

/** Reads the kits; each sets base quantities, or changes instruments or steps. */
export function readKits(
  form: LabForm,
  quantities: Quantities,
  document: LabDocument,
): Outcome<readonly Kit[]> {
  const forms = form.kits ?? {};
  const problems: Problem[] = [];
  const kits = Object.entries(forms).flatMap(([name, own]): Kit[] => {
    const read = readKit(name, own, quantities, document);
    if (!read.ok) problems.push(...read.problems);
    return read.ok ? [read.value] : [];
  });
  problems.push(...findUnknownPartners(forms, document));
  if (problems.length > 0) return fail(...problems);
  const allows = (kit: Kit, other: Kit) => kit.with.has(other.name) || other.with.has(kit.name);
  const symmetric = kits.map((kit) => ({
    ...kit,
    with: new Set(kits.filter((other) => allows(kit, other)).map(({ name }) => name)),
  }));
  const rivals = findRivals(symmetric);
  return rivals.length > 0 ? fail(...rivals) : succeed(symmetric);
}

function readKit(name: string, form: KitForm, quantities: Quantities, document: LabDocument): Outcome<Kit> {
  const problems: Problem[] = [];
  const set: Setting[] = [];
  const estimates = new Map<string, Estimate>();
  const place = document.placeOfKey(['kits', name]);
  if (form.set === undefined && form.instruments === undefined && form.reduction === undefined) {
    problems.push(
      problem(
        'kit-changes-nothing',
        place,
        `The kit "${name}" changes nothing.`,
        'Give it "set", "instruments" or "reduction".',
      ),
    );
  }
  for (const [symbol, written] of Object.entries(form.set ?? {})) {
    const path: Path = ['kits', name, 'set', symbol];
    const value = typeof written === 'object' ? written.value : written;
    const valuePath = typeof written === 'object' ? [...path, 'value'] : path;
    const setting = readSetting(
      symbol,
      String(value),
      quantities,
      document.placeOfKey(path),
      document.originOf(valuePath),
      'set',
    );
    if (!setting.ok) {
      problems.push(...setting.problems);
      continue;
    }
    set.push(setting.value);
    const { quantity } = setting.value;
    const own = { ...quantity.estimate, value: setting.value.value };
    if (typeof written !== 'object') {
      estimates.set(symbol, own);
      continue;
    }
    // The entry is read as that of the quantity itself; only its place is another.
    const moved = overlayDocument(document, [{ at: ['quantities', symbol], from: path }]);
    const read = readEstimate(symbol, written, moved);
    problems.push(...read.problems);
    if (read.written === null) continue;
    if (!sameDimension(read.written.unit.dimension, quantity.dimension)) continue;
    const stated = read.written.estimate;
    estimates.set(symbol, stated.standardUncertainty > 0 ? stated : own);
  }
  if (problems.length > 0) return fail(...problems);
  const { instruments, reduction } = form;
  return succeed({
    name,
    is: form.is ?? '',
    set,
    estimates,
    change: {
      ...(instruments === undefined ? {} : { instruments }),
      ...(reduction === undefined ? {} : { reduction }),
    },
    with: new Set(form.with ?? []),
    place,
  });
}

function findUnknownPartners(
  forms: Readonly<Record<string, KitForm>>,
  document: LabDocument,
): readonly Problem[] {
  return Object.entries(forms).flatMap(([name, form]) =>
    (form.with ?? []).flatMap((other, index): Problem[] => {
      if (Object.hasOwn(forms, other) && other !== name) return [];
      const place = document.placeOf(['kits', name, 'with', index]);
      const near = nearestName(other, Object.keys(forms));
      const message =
        other === name
          ? `The kit "${name}" cannot be combined with itself.`
          : `"${other}" is not a kit of this lab.`;
      const advice = near === undefined || other === name ? undefined : `Did you mean "${near}"?`;
      return [problem('unknown-kit', place, message, advice)];
    }),
  );
}

/** Kits that may be combined change different things. */
function findRivals(kits: readonly Kit[]): readonly Problem[] {
  return kits.flatMap((kit, index) =>
    kits.slice(index + 1).flatMap((other): Problem[] => {
      if (!kit.with.has(other.name)) return [];
      const changed = partsOf(kit).filter((part) => partsOf(other).includes(part));
      if (changed.length === 0) return [];
      const message = `The kits "${kit.name}" and "${other.name}" may be combined, and both change ${changed.join(' and ')}.`;
      return [
        problem('rival-kits', other.place, message, 'Let only one of them change it, or take out "with".'),
      ];
    }),
  );
}

function partsOf({ set, change }: Kit): readonly string[] {
  return [
    ...set.map(({ quantity }) => quantity.name),
    ...Object.keys(change.instruments ?? {}).map((name) => `the instrument "${name}"`),
    ...(['each run', 'across runs'] as const)
      .filter((part) => change.reduction?.[part] !== undefined)
      .map((part) => `the steps of "${part}"`),
  ];
}
