import type { Directives } from 'mdast-util-directive';
import type { LabResult } from '../../lab/index.ts';
import { convertibleTo, parseUnit, type Unit } from '../../quantity/index.ts';
import { stateQuantities } from '../../run/index.ts';
import { type Inline, point } from '../document/index.ts';
import { type Desk, uncertaintyOf } from '../draft/index.ts';
import { attributesOf } from './attributes.ts';
import { placeOf, type Reading, sourceOf, tell, tellUnknown } from './reading.ts';

/** What may be asked of a result. */
export const PARTS = ['full', 'theory', 'ideal', 'measured', 'remainder'] as const;
type PartName = (typeof PARTS)[number];

/**
 * The number that `:value[NAME]` stands for: a quantity with its uncertainty, or a result by the full model.
 *
 * `of` asks for another line of a result's ledger, `at` for another setting of the plan, `unit` for how it is printed;
 * `digits` leaves out its uncertainty.
 *
 * @returns the inline, or null where a problem was told
 */
export function valueInline(desk: Desk, node: Directives, reading: Reading): Inline | null {
  const name = sourceOf(reading, node.children).trim();
  const attributes = attributesOf(node, ['of', 'at', 'unit', 'digits'], reading);
  if (attributes === null) return null;
  const { lab } = desk;
  const result = lab.results.find((candidate) => candidate.name === name);
  const quantity = lab.quantities.byName.get(name);
  if (result === undefined && quantity === undefined) {
    const known = [...lab.results.map((each) => each.name), ...lab.quantities.byName.keys()];
    const message =
      name === ''
        ? '":value" names no quantity: :value[L].'
        : `"${name}" is no quantity and no result of this lab.`;
    tellUnknown(reading, node, 'unknown-quantity', message, name, known);
    return null;
  }
  const digits = digitsOf(attributes.digits, node, reading);
  if (digits === null) return null;
  if (quantity !== undefined && result === undefined) {
    if (attributes.of !== undefined || attributes.at !== undefined) {
      tell(reading, node, 'wrong-attribute', `${name} is a quantity; "of" and "at" are asked of results.`);
      return null;
    }
    const unit = unitFor(attributes.unit, desk.names.unitOf(quantity), node, reading);
    if (unit === null) return null;
    const stated = stateQuantities(lab).find((each) => each.quantity === quantity);
    if (stated === undefined) return null;
    const u = quantity.kind === 'base' ? uncertaintyOf(quantity) : stated.standardUncertainty;
    return point(stated.value, digits === undefined ? u : 0, unit, digits);
  }
  if (result === undefined) return null;
  const unit = unitFor(attributes.unit, result.unit, node, reading);
  const found = resultNumber(desk, result, attributes.of ?? 'full', attributes.at, node, reading);
  if (unit === null || found === null) return null;
  return point(found.value, digits === undefined ? found.standardUncertainty : 0, unit, digits);
}

function resultNumber(
  { gathered }: Desk,
  result: LabResult,
  of: string,
  at: string | undefined,
  node: Directives,
  reading: Reading,
): { readonly value: number; readonly standardUncertainty: number } | null {
  const part = PARTS.find((candidate) => candidate === of);
  if (part === undefined) {
    tellUnknown(
      reading,
      node,
      'unknown-part',
      `"${of}" is nothing that can be asked of a result.`,
      of,
      PARTS,
    );
    return null;
  }
  const { ledgers, main } = gathered.reconciliation;
  const own = ledgers.filter((ledger) => ledger.result === result);
  const ledger =
    at === undefined
      ? ledgers[main.get(result.name) ?? -1]
      : own.find(({ group }) => group !== null && bare(group) === bare(at));
  if (ledger === undefined) {
    const groups = own.flatMap(({ group }) => group ?? []);
    tellUnknown(
      reading,
      node,
      'unknown-setting',
      `${result.name} has no setting "${at ?? ''}".`,
      at ?? '',
      groups,
    );
    return null;
  }
  const found = pick(part, ledger);
  if (found === null) {
    const message =
      part === 'theory'
        ? `The lab states no theory of ${result.name}.`
        : `${result.name} has not been measured${at === undefined ? '' : ` at ${at}`}.`;
    tell(reading, node, 'no-such-number', message, 'Ask for another part of it, such as of=full.');
  }
  return found;
}

function pick(part: PartName, ledger: Desk['gathered']['reconciliation']['ledgers'][number]) {
  return ledger[part];
}

function bare(text: string): string {
  return text.replace(/\s+/gu, '');
}

function digitsOf(
  written: string | undefined,
  node: Directives,
  reading: Reading,
): number | undefined | null {
  if (written === undefined) return undefined;
  const digits = Number(written);
  if (Number.isInteger(digits) && digits >= 1 && digits <= 12) return digits;
  tell(
    reading,
    node,
    'wrong-attribute',
    `"digits" is "${written}"; a whole number from 1 to 12 stands there.`,
  );
  return null;
}

function unitFor(written: string | undefined, own: Unit, node: Directives, reading: Reading): Unit | null {
  if (written === undefined) return own;
  const unit = parseUnit(written);
  if (!unit.ok) {
    const [first] = unit.problems;
    tell(
      reading,
      node,
      first?.code ?? 'unknown-unit',
      first?.message ?? `"${written}" is no unit.`,
      first?.tryThis,
    );
    return null;
  }
  const convertible = convertibleTo(own, unit.value, placeOf(reading, node));
  if (convertible.ok) return unit.value;
  reading.problems.push(...convertible.problems);
  return null;
}
