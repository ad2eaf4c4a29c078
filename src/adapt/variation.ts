import { type BaseQuantity, type Lab, readSetting, type Setting } from '../lab/index.ts';
import { fail, type Outcome, problem, succeed } from '../problem/index.ts';

/** A quantity that is varied: over a range, or through a list of choices. SI. */
export type Variation =
  | { readonly kind: 'range'; readonly quantity: BaseQuantity; readonly from: number; readonly to: number }
  | { readonly kind: 'list'; readonly quantity: BaseQuantity; readonly values: readonly number[] };

/** Most choices of one quantity. */
const MOST_CHOICES = 1000;

/**
 * Reads what is varied: 'L=0.8m..2m' (a range), 'L=0.8m..2m by 0.1m' (choices in steps), 'm_t=250g,500g' (choices).
 *
 * @param text as the user wrote it, named in messages
 */
export function readVariation(lab: Lab, text: string): Outcome<Variation> {
  const place = { step: `--vary ${text}` };
  const at = text.indexOf('=');
  if (at < 1) {
    return fail(
      problem(
        'usage',
        place,
        'What is varied is a symbol, "=", and a range or a list of values with units.',
        'For example: L=0.8m..2m or m_t=250g,500g',
      ),
    );
  }
  const name = text.slice(0, at).trim();
  const written = text.slice(at + 1).trim();
  const value = (part: string): Outcome<Setting> =>
    readSetting(name, part.trim(), lab.quantities, place, { placeAt: () => place }, '--vary');
  const range = /^(.+?)\.\.(.+?)(?:\s+by\s+(.+))?$/.exec(written);
  if (range === null) {
    const values = written.split(',').map(value);
    const bad = values.flatMap((read) => (read.ok ? [] : read.problems));
    const good = values.flatMap((read) => (read.ok ? [read.value] : []));
    const [first] = good;
    if (bad.length > 0 || first === undefined) return fail(...bad);
    return succeed({ kind: 'list', quantity: first.quantity, values: good.map((own) => own.value) });
  }
  const from = value(range[1] ?? '');
  const to = value(range[2] ?? '');
  const step = range[3] === undefined ? null : value(range[3]);
  if (!from.ok) return from;
  if (!to.ok) return to;
  if (step !== null && !step.ok) return step;
  const { quantity } = from.value;
  const low = from.value.value;
  const high = to.value.value;
  if (!(low < high)) {
    return fail(problem('usage', place, `The range of ${name} must rise; "${written}" does not.`));
  }
  if (step === null) return succeed({ kind: 'range', quantity, from: low, to: high });
  const by = step.value.value;
  const count = Math.floor((high - low) / by + 1e-9) + 1;
  if (!(by > 0) || count > MOST_CHOICES) {
    const message = `The step of ${name} must be above 0 and give at most ${MOST_CHOICES} choices.`;
    return fail(problem('usage', place, message));
  }
  // Sums of 0.1 end in …0000001; twelve digits are more than any lab has.
  const values = Array.from({ length: count }, (_, index) => Number((low + index * by).toPrecision(12)));
  return succeed({ kind: 'list', quantity, values });
}

/** The values of a variation: those of a list, or as many as asked for, evenly over a range. */
export function placesOf(variation: Variation, count: number): readonly number[] {
  if (variation.kind === 'list') return variation.values;
  const { from, to } = variation;
  return Array.from({ length: count }, (_, index) => from + ((to - from) * index) / (count - 1));
}
