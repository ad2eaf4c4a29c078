import type { LabEdit, PlainValue } from '../../../src/edit/index.ts';
import type { QuantityEntry, ValueSource } from './quantity-entry.ts';

/**
 * The edits that let a quantity come by its value in another way, with what is known of it as the first entry.
 *
 * @param now the value as it is printed at present: '96.4(5) g'
 */
export function switchSource(
  entry: QuantityEntry,
  source: ValueSource,
  now: string | null,
): readonly LabEdit[] {
  const at = ['quantities', entry.name];
  const plain = (now ?? '')
    .replace(/\(.*?\)/, '')
    .replace('−', '-')
    .trim();
  const value = entry.value === '' ? plain || '1' : entry.value;
  const first: Readonly<Record<ValueSource, PlainValue>> = {
    value,
    observed: entry.observed.length > 0 ? entry.observed : [value, value],
    at: { latitude: '50 degree', height: '0 m' },
    equals: entry.equals === '' ? value.split(' ')[0] || '1' : entry.equals,
  };
  const gone: LabEdit[] = [{ kind: 'remove', at: [...at, entry.source] }];
  // A computed quantity and one from a place or from readings bring their uncertainty with them.
  if (source === 'equals' || source === 'at')
    gone.push(...entry.uncertainties.map(({ kind }): LabEdit => ({ kind: 'remove', at: [...at, kind] })));
  if (entry.unit !== '' && source !== 'equals') gone.push({ kind: 'remove', at: [...at, 'unit'] });
  return [{ kind: 'insert', at, key: source, value: first[source] }, ...gone];
}
