import type { Outcome, Problem } from '../problem/index.ts';
import { fail, succeed } from '../problem/index.ts';
import type { Estimate } from '../quantity/index.ts';
import { sameDimension } from '../quantity/index.ts';
import type { LabDocument, Path } from './document.ts';
import { readSetting, type Setting } from './effect-section.ts';
import { readEstimate } from './estimate-form.ts';
import type { KitForm } from './form.ts';
import { overlayDocument } from './overlay-document.ts';
import type { Quantities } from './quantity-section.ts';

/** A value that a quantity is set to, with the uncertainty that is stated beside it; null where none is. */
export interface StatedSetting extends Setting {
  readonly stated: Estimate | null;
}

/** Reads a map of quantities to values that may state an uncertainty of their own, as in the `set` of a kit. */
export function readStatedSettings(
  form: NonNullable<KitForm['set']>,
  path: Path,
  quantities: Quantities,
  document: LabDocument,
): Outcome<readonly StatedSetting[]> {
  const problems: Problem[] = [];
  const settings: StatedSetting[] = [];
  for (const [symbol, written] of Object.entries(form)) {
    const own: Path = [...path, symbol];
    const setting = readSetting(
      symbol,
      String(typeof written === 'object' ? written.value : written),
      quantities,
      document.placeOfKey(own),
      document.originOf(typeof written === 'object' ? [...own, 'value'] : own),
      'set',
    );
    if (!setting.ok) {
      problems.push(...setting.problems);
      continue;
    }
    if (typeof written !== 'object') {
      settings.push({ ...setting.value, stated: null });
      continue;
    }
    // The entry is read as that of the quantity itself; only its place is another.
    const moved = overlayDocument(document, [{ at: ['quantities', symbol], from: own }]);
    const read = readEstimate(symbol, written, moved);
    problems.push(...read.problems);
    if (read.written === null) continue;
    if (!sameDimension(read.written.unit.dimension, setting.value.quantity.dimension)) continue;
    const { estimate } = read.written;
    settings.push({ ...setting.value, stated: estimate.standardUncertainty > 0 ? estimate : null });
  }
  return problems.length > 0 ? fail(...problems) : succeed(settings);
}
