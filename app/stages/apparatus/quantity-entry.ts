import type { LabEdit, PlainValue } from '../../../src/edit/index.ts';
import { formatNumber, parseMagnitude } from '../../../src/quantity/index.ts';
import { isRecord, listAt, type PlainRecord, textAt } from '../../bench/plain.ts';

/** How a quantity comes by its value. */
export type ValueSource = 'value' | 'observed' | 'at' | 'equals';

/** How well a quantity is known, as the file says it. */
export type UncertaintyKind = 'u' | 'within' | 'reading' | 'expanded';

export const UNCERTAINTY_WORDS: Readonly<Record<UncertaintyKind | 'none', string>> = {
  none: 'exact',
  u: 'standard u',
  within: 'within ±',
  reading: 'division',
  expanded: 'expanded U',
};

export const SOURCE_WORDS: Readonly<Record<ValueSource, string>> = {
  value: 'one value',
  observed: 'repeated readings',
  at: 'gravity of a place',
  equals: 'computed',
};

/** Standard uncertainty over the number that is written: JCGM 100, 4.3.7 and F.2.2.1. */
const STANDARD_OVER_WRITTEN = { u: 1, within: 1 / Math.sqrt(3), reading: 1 / Math.sqrt(12) } as const;

/** A quantity's entry in the file, as far as a row of the screen needs it; a stranger wrote it. */
export interface QuantityEntry {
  readonly name: string;
  /** Where the entry stands in the file. */
  readonly at: readonly string[];
  readonly is: string;
  readonly source: ValueSource;
  readonly value: string;
  readonly observed: readonly string[];
  readonly latitude: string;
  readonly height: string;
  readonly equals: string;
  readonly unit: string;
  readonly from: string;
  /** Each uncertainty that is stated, in the order of the file. */
  readonly uncertainties: readonly { readonly kind: UncertaintyKind; readonly written: string }[];
  readonly coverage: string;
}

export function readEntry(
  name: string,
  form: unknown,
  at: readonly string[] = ['quantities', name],
): QuantityEntry {
  const entry: PlainRecord = isRecord(form) ? form : {};
  const source = (['equals', 'observed', 'at'] as const).find((key) => key in entry) ?? 'value';
  const text = (...path: readonly string[]): string => textAt(entry, path) ?? '';
  return {
    name,
    at,
    is: text('is'),
    source,
    value: text('value'),
    observed: listAt(entry, ['observed']).map(String),
    latitude: text('at', 'latitude'),
    height: text('at', 'height'),
    equals: text('equals'),
    unit: text('unit'),
    from: text('from'),
    uncertainties: Object.keys(entry).flatMap((key) => {
      const kind = kindOf(key);
      if (kind === null) return [];
      return [{ kind, written: kind === 'expanded' ? text('expanded', 'U') : text(kind) }];
    }),
    coverage: text('expanded', 'k'),
  };
}

function kindOf(key: string): UncertaintyKind | null {
  return key === 'u' || key === 'within' || key === 'reading' || key === 'expanded' ? key : null;
}

/**
 * The edits that state an uncertainty in another way, its size kept: limits of ±2 mm are a standard uncertainty of
 * 1.2 mm.
 *
 * @returns null where the number has to be typed first
 */
export function restateUncertainty(
  entry: QuantityEntry,
  from: UncertaintyKind,
  to: UncertaintyKind | 'none',
): readonly LabEdit[] | null {
  const { at } = entry;
  const remove: LabEdit = { kind: 'remove', at: [...at, from] };
  if (to === 'none') return [remove];
  const written = entry.uncertainties.find(({ kind }) => kind === from)?.written ?? '';
  const magnitude = parseMagnitude(written, 'interval');
  if (!magnitude.ok) return null;
  const k = Number(entry.coverage) || 2;
  const standard =
    from === 'expanded' ? magnitude.value.inUnit / k : magnitude.value.inUnit * STANDARD_OVER_WRITTEN[from];
  const size = to === 'expanded' ? standard * k : standard / STANDARD_OVER_WRITTEN[to];
  const text = `${plainNumber(size)} ${magnitude.value.unit.text}`.trim();
  const value: PlainValue = to === 'expanded' ? { U: text, k } : text;
  return [remove, { kind: 'insert', at, key: to, value }];
}

/** Two significant digits, in a form that the lab file takes: an uncertainty is not known better (JCGM 100, 7.2.6). */
function plainNumber(value: number): string {
  const rounded = Number(value.toPrecision(2));
  const size = Math.abs(rounded);
  return size !== 0 && (size < 1e-4 || size >= 1e6)
    ? rounded.toExponential()
    : formatNumber(rounded).replace('−', '-');
}
