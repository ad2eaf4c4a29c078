import type { Lab } from '../lab/index.ts';
import { fail, type Outcome, problem, succeed } from '../problem/index.ts';
import { formatUnit, parseMagnitude, sameDimension } from '../quantity/index.ts';
import type { Spot } from './gauge.ts';
import { type Measure, readMeasure } from './measure.ts';

/** A measure held against a limit: 'gap(k2) < 2 %'. */
export interface AdaptCondition {
  readonly text: string;
  readonly measure: Measure;
  readonly sense: 'below' | 'above';
  /** SI, or a plain ratio. */
  readonly limit: number;
}

/** Reads a condition; whether gap, u and share are meant relatively is told by the unit of the limit. */
export function readCondition(lab: Lab, text: string, option: string): Outcome<AdaptCondition> {
  const step = `${option} "${text}"`;
  const parts = /^(.*?)\s*(<=|>=|<|>|≤|≥)\s*(.*)$/.exec(text.trim());
  if (parts === null) {
    return fail(
      problem(
        'usage',
        { step },
        'A condition is a measure, "<" or ">", and a limit with its unit.',
        'For example: "gap(k2) < 2 %" or "speed < 3 m/s"',
      ),
    );
  }
  const [, written = '', sign = '', limitText = ''] = parts;
  const place = { step };
  const limit = parseMagnitude(limitText, 'interval', { placeAt: () => place });
  if (!limit.ok) return fail(...limit.problems.map((found) => ({ ...found, code: 'usage' })));
  const { dimension } = limit.value.unit;
  const relative = readMeasure(lab, written, step, 'relative');
  if (!relative.ok) return relative;
  const absolute = readMeasure(lab, written, step, 'absolute');
  const measure = [relative, absolute].find(
    (read) => read.ok && sameDimension(read.value.dimension, dimension),
  );
  if (measure?.ok !== true) {
    const { unit } = absolute.ok ? absolute.value : relative.value;
    const message = `"${limitText}" cannot be held against ${written.trim()}, which is given in ${formatUnit(unit) || 'plain numbers'}.`;
    return fail(problem('usage', place, message));
  }
  return succeed({
    text: text.trim(),
    measure: measure.value,
    sense: sign.startsWith('<') || sign === '≤' ? 'below' : 'above',
    limit: limit.value.value,
  });
}

/** How far a spot is inside a condition: above 0 inside, 0 at the limit; in the measure's unit of SI. */
export function marginAt({ measure, sense, limit }: AdaptCondition, spot: Spot): Outcome<number> {
  const value = measure.evaluate(spot);
  if (!value.ok) return value;
  return succeed(sense === 'below' ? limit - value.value : value.value - limit);
}
