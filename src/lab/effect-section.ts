import { sayDimension } from '../expression/index.ts';
import type { Outcome, Place, Problem } from '../problem/index.ts';
import { fail, problem, succeed } from '../problem/index.ts';
import { formatNumber, fromSI, parseMagnitude, sameDimension } from '../quantity/index.ts';
import { checkSize } from './check-size.ts';
import type { LabDocument, Path } from './document.ts';
import type { LabForm } from './form.ts';
import type { BaseQuantity, Quantities } from './quantity-section.ts';
import { unknownQuantity } from './quantity-section.ts';

/** A base quantity set to a value in SI. */
export interface Setting {
  readonly quantity: BaseQuantity;
  readonly value: number;
}

/** A piece of physics that the ideal theory leaves out: a name and the settings that switch it off. */
export interface Effect {
  readonly name: string;
  readonly is: string;
  readonly off: readonly Setting[];
  readonly place: Place;
}

/**
 * Reads the effects; each switches at least one base quantity to a value other than the one it has.
 *
 * @param idle whether an effect that changes nothing is told, or passed over because a kit may leave it nothing to do
 */
export function readEffects(
  forms: NonNullable<LabForm['effects']>,
  quantities: Quantities,
  document: LabDocument,
  idle: 'told' | 'passed over' = 'told',
): Outcome<readonly Effect[]> {
  const problems: Problem[] = [];
  const effects: Effect[] = [];
  for (const [name, form] of Object.entries(forms)) {
    const path: Path = ['effects', name];
    const off = readSettings(form.off, [...path, 'off'], quantities, document, 'off');
    if (!off.ok) {
      problems.push(...off.problems);
      continue;
    }
    const changesNothing = off.value.every(({ quantity, value }) => value === quantity.estimate.value);
    if (changesNothing && idle === 'told') {
      const written = off.value
        .map(({ quantity, value }) => `${quantity.name} = ${inItsUnit(quantity, value)}`)
        .join(', ');
      problems.push(
        problem(
          'effect-changes-nothing',
          document.placeOfKey(path),
          written === ''
            ? `The effect "${name}" changes nothing: it sets no quantity.`
            : `The effect "${name}" changes nothing: ${written} is already the value.`,
          'An effect names the values that switch it off.',
        ),
      );
    }
    for (const setting of off.value) {
      const other = findRival(setting, effects);
      if (other !== undefined) problems.push(rivalSettings(name, other.name, setting, document));
    }
    effects.push({ name, is: form.is ?? '', off: off.value, place: document.placeOfKey(path) });
  }
  return problems.length > 0 ? fail(...problems) : succeed(effects);
}

/** The effect before this one that is switched off by another value of the same quantity. */
function findRival({ quantity, value }: Setting, effects: readonly Effect[]): Effect | undefined {
  return effects.find(({ off }) => off.some((other) => other.quantity === quantity && other.value !== value));
}

function rivalSettings(name: string, other: string, { quantity }: Setting, document: LabDocument): Problem {
  return problem(
    'rival-settings',
    document.placeOfKey(['effects', name, 'off', quantity.name]),
    `The effects "${other}" and "${name}" are switched off by different values of ${quantity.name}, so both cannot be off at once.`,
    'Give each effect a quantity of its own.',
  );
}

/**
 * Reads a map of quantities to values, as in `off:`, `when:` and `set:`.
 *
 * @returns the settings, or a problem for each symbol that is not a base quantity and each value that does not fit it
 */
export function readSettings(
  form: Readonly<Record<string, string | number>>,
  path: Path,
  quantities: Quantities,
  document: LabDocument,
  key: string,
): Outcome<readonly Setting[]> {
  const problems: Problem[] = [];
  const settings: Setting[] = [];
  for (const [name, written] of Object.entries(form)) {
    const place = document.placeOfKey([...path, name]);
    const setting = readSetting(
      name,
      String(written),
      quantities,
      place,
      document.originOf([...path, name]),
      key,
    );
    if (setting.ok) settings.push(setting.value);
    else problems.push(...setting.problems);
  }
  return problems.length > 0 ? fail(...problems) : succeed(settings);
}

/** Reads one setting, `L` and `1.4 m`; a computed quantity cannot be set, the message says which ones can. */
export function readSetting(
  name: string,
  written: string,
  quantities: Quantities,
  place: Place,
  origin: { placeAt(offset: number): Place },
  key: string,
): Outcome<Setting> {
  const quantity = quantities.byName.get(name);
  if (quantity === undefined) return fail(unknownQuantity(name, quantities, place));
  if (quantity.kind === 'derived') {
    return fail(
      problem(
        'computed-quantity',
        place,
        `${name} is computed from "${quantity.expression.text}" and cannot be set by "${key}".`,
        'Set one of the quantities it is computed from.',
      ),
    );
  }
  const magnitude = parseMagnitude(written, 'point', origin);
  if (!magnitude.ok) return magnitude;
  const { unit, value } = magnitude.value;
  if (!sameDimension(unit.dimension, quantity.dimension)) {
    return fail(
      problem(
        'wrong-dimension',
        origin.placeAt(0),
        `${name} is set to "${written}", which ${sayDimension(unit.dimension)}; ${name} ${sayDimension(quantity.dimension)}.`,
        unit.text === '' && quantity.unit.text !== ''
          ? `Is its unit missing? ${name} is given in ${quantity.unit.text}.`
          : undefined,
      ),
    );
  }
  const bad = checkSize(value, written, `${name} as set by "${key}"`, origin.placeAt(0));
  return bad === null ? succeed({ quantity, value }) : fail(bad);
}

/** A value of a base quantity as people read it: in the unit the author gave it. */
export function inItsUnit(quantity: BaseQuantity, value: number): string {
  const number = formatNumber(fromSI(value, quantity.unit, 'point'));
  return quantity.unit.text === '' ? number : `${number} ${quantity.unit.text}`;
}
