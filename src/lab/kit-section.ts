import type { Outcome, Place, Problem } from '../problem/index.ts';
import { fail, nearestName, problem, succeed } from '../problem/index.ts';
import type { Estimate } from '../quantity/index.ts';
import type { WrittenChange } from './change-forms.ts';
import type { LabDocument } from './document.ts';
import type { Setting } from './effect-section.ts';
import type { KitForm, LabForm } from './form.ts';
import type { Quantities } from './quantity-section.ts';
import { readStatedSettings } from './stated-settings.ts';

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
  const set = readStatedSettings(form.set ?? {}, ['kits', name, 'set'], quantities, document);
  if (!set.ok) problems.push(...set.problems);
  if (!set.ok || problems.length > 0) return fail(...problems);
  const { instruments, reduction } = form;
  return succeed({
    name,
    is: form.is ?? '',
    set: set.value.map(({ quantity, value }) => ({ quantity, value })),
    estimates: new Map(
      set.value.map(({ quantity, value, stated }) => [
        quantity.name,
        stated ?? { ...quantity.estimate, value },
      ]),
    ),
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
