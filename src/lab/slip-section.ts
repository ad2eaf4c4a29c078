import type { Outcome, Place, Problem } from '../problem/index.ts';
import { fail, problem, succeed } from '../problem/index.ts';
import { type ChangeReadings, readChangedReadings } from './changed-readings.ts';
import type { Path } from './document.ts';
import { readSetting } from './effect-section.ts';
import type { SlipForm } from './form.ts';
import type { LabInstrument } from './instrument-section.ts';
import { compileOnQuantities, type QuantityFunction } from './quantity-function.ts';
import type { BaseQuantity } from './quantity-section.ts';
import type { Reduction } from './reduction-section.ts';
import { type ReportedChange, readReported } from './reported-change.ts';
import type { LabResult } from './result-section.ts';
import type { Surroundings } from './surroundings.ts';
import type { TellReduction } from './tell-reduction.ts';
import { readWrittenValue } from './written-value.ts';

/** A base quantity that is taken for another value than it has. */
export interface SlipSetting {
  readonly quantity: BaseQuantity;
  /** The wrong value, for given right ones; SI. */
  readonly valueAt: QuantityFunction;
}

/** A common mistake, told as a change of the pipeline. */
export interface Slip {
  readonly name: string;
  readonly is: string;
  /** The sentence that helps whoever made it; empty where the author gives none. */
  readonly helps: string;
  /** Values that the class reckons with. */
  readonly set: readonly SlipSetting[];
  /** Values that the apparatus has. */
  readonly apparatus: readonly SlipSetting[];
  /** Null where the readings are written down as they are. */
  readonly readings: ChangeReadings | null;
  /** The steps as the class takes them; null where they are the lab's own. */
  readonly reduction: Reduction | null;
  /** Results that are reported changed. */
  readonly reported: readonly ReportedChange[];
  readonly place: Place;
}

/** What slips are read with besides the quantities. */
export interface SlipSurroundings {
  readonly around: Surroundings;
  readonly instruments: readonly LabInstrument[];
  readonly results: readonly LabResult[];
  readonly tell: TellReduction;
  /** Value of a base quantity in the lab without kits, SI: what the author had in mind when writing the slip. */
  usualValue(symbol: string): number;
}

/**
 * Reads the slips.
 *
 * @param misfits whether a slip that does not fit is told, or passed over because it was told of the lab without kits
 */
export function readSlips(
  forms: Readonly<Record<string, SlipForm>>,
  parts: SlipSurroundings,
  misfits: 'told' | 'passed over',
): Outcome<readonly Slip[]> {
  const problems: Problem[] = [];
  const slips = Object.entries(forms).flatMap(([name, form]): Slip[] => {
    const slip = readSlip(name, form, parts);
    if (!slip.ok) problems.push(...slip.problems);
    return slip.ok ? [slip.value] : [];
  });
  return problems.length > 0 && misfits === 'told' ? fail(...problems) : succeed(slips);
}

function readSlip(name: string, form: SlipForm, parts: SlipSurroundings): Outcome<Slip> {
  const { around, tell } = parts;
  const path: Path = ['slips', name];
  const place = around.document.placeOfKey(path);
  const kinds = ['set', 'apparatus', 'instruments', 'readings', 'reduction', 'reported'] as const;
  if (kinds.every((kind) => form[kind] === undefined)) {
    return fail(
      problem(
        'slip-changes-nothing',
        place,
        `The slip "${name}" changes nothing.`,
        `Give it ${kinds
          .slice(0, -1)
          .map((kind) => `"${kind}"`)
          .join(', ')} or "reported".`,
      ),
    );
  }
  const set = readSlipSettings(form.set ?? {}, [...path, 'set'], 'set', parts);
  const apparatus = readSlipSettings(form.apparatus ?? {}, [...path, 'apparatus'], 'apparatus', parts);
  const readings = readChangedReadings(form.readings ?? {}, [...path, 'readings'], parts.instruments, around);
  const reported = readReported(form.reported ?? {}, [...path, 'reported'], parts.results, around);
  const reduction =
    form.instruments === undefined && form.reduction === undefined
      ? succeed(null)
      : tell(form, path, around.document);
  if (!set.ok || !apparatus.ok || !readings.ok || !reported.ok || !reduction.ok) {
    return fail(
      ...[set, apparatus, readings, reported, reduction].flatMap((part) => (part.ok ? [] : part.problems)),
    );
  }
  return succeed({
    name,
    is: form.is ?? '',
    helps: form.helps ?? '',
    set: set.value,
    apparatus: apparatus.value,
    readings: readings.value,
    reduction: reduction.value,
    reported: reported.value,
    place,
  });
}

/** Wrong values: a value with its unit, or an expression of the right ones ('2*R'). */
function readSlipSettings(
  form: Readonly<Record<string, string | number>>,
  path: Path,
  key: string,
  parts: SlipSurroundings,
): Outcome<readonly SlipSetting[]> {
  const problems: Problem[] = [];
  const settings = Object.entries(form).flatMap(([symbol, written]): SlipSetting[] => {
    const own = readSlipSetting(symbol, String(written), [...path, symbol], key, parts);
    if (!own.ok) problems.push(...own.problems);
    return own.ok ? [own.value] : [];
  });
  return problems.length > 0 ? fail(...problems) : succeed(settings);
}

function readSlipSetting(
  symbol: string,
  text: string,
  path: Path,
  key: string,
  { around, usualValue }: SlipSurroundings,
): Outcome<SlipSetting> {
  const { document, quantities, tables, scope } = around;
  const place = document.placeOfKey(path);
  const origin = document.originOf(path);
  const quantity = quantities.byName.get(symbol);
  if (quantity?.kind !== 'base') {
    const refused = readSetting(symbol, text, quantities, place, origin, key);
    return refused.ok
      ? succeed({ quantity: refused.value.quantity, valueAt: () => refused.value.value })
      : refused;
  }
  const expected = { dimension: quantity.dimension, what: `${symbol} as set by "${key}"` };
  const read = readWrittenValue(text, path, document, scope, expected, 'point');
  if (!read.ok) return read;
  if (read.value.kind === 'fixed') {
    const setting = readSetting(symbol, text, quantities, place, origin, key);
    if (!setting.ok) return setting;
    const { value } = setting.value;
    const usual = usualValue(symbol);
    // Written for the lab's own value; where a station or a kit has another, the slip keeps its ratio to it.
    return succeed({
      quantity,
      valueAt: (values) => (usual === 0 ? value : value * (values[quantity.index] / usual)),
    });
  }
  return succeed({ quantity, valueAt: compileOnQuantities(read.value.expression, quantities, tables) });
}
