import type { Motion } from '../../evolve/index.ts';
import type { Model } from '../../model/index.ts';
import type { Unit } from '../../quantity/index.ts';
import { type AxisUnit, axisUnit, inAxisUnit } from '../axis-unit.ts';
import { describeSeries } from '../describe.ts';
import type { ChartFigure, CurveMark, Mark, RegionMark } from '../figure.ts';
import { figureName } from '../figure-name.ts';
import { numberAxis } from '../number-axis.ts';
import { italic, plainText, upright } from '../rich-text.ts';
import { sayNumber } from '../say-number.ts';
import { symbolText } from '../symbol-text.ts';
import { phrasesOf, type Wording } from '../wording.ts';

/** Places at which a motion is looked at, beside its breaks. */
const PLACES = 300;

/** Which states are shown, and in which units; all states and SI where left out. */
export interface ValidityOptions {
  readonly states?: readonly string[];
  readonly units?: ReadonlyMap<string, Unit>;
}

/**
 * Where the model is true: states against time, one panel a state, the time after the first failing of a condition
 * hatched.
 */
export function validityFigure(
  motion: Motion,
  model: Pick<Model, 'stateNames' | 'dimensionOfState'>,
  wording: Wording,
  options: ValidityOptions = {},
): ChartFigure {
  const phrases = phrasesOf(wording.language);
  const shown = (options.states ?? model.stateNames).filter((name) => model.stateNames.includes(name));
  const times = timesOf(motion);
  const timeUnit = axisUnit([0, 0, 1, 0, 0, 0, 0], [times]);
  const x = numberAxis(italic('t'), timeUnit.text);
  const failing = [...motion.holds].filter(({ failsAt }) => failsAt !== null);
  const [first] = failing.sort((a, b) => (a.failsAt?.t ?? 0) - (b.failsAt?.t ?? 0));
  const sentences: string[] = [];
  const state = new Float64Array(model.stateNames.length);
  const panels = shown.map((name) => {
    const index = model.stateNames.indexOf(name);
    const values = times.map((t) => {
      motion.stateAt(t, state);
      return state[index];
    });
    const unit = axisUnit(model.dimensionOfState(name), [values], options.units?.get(name) ?? null);
    const y = numberAxis(symbolText(name), unit.text);
    const curve: CurveMark = {
      kind: 'curve',
      role: 'full',
      name: upright(phrases.full),
      x: inAxisUnit(times, timeUnit),
      y: inAxisUnit(values, unit),
    };
    sentences.push(...describeSeries(curve, x, y, wording));
    const marks: Mark[] = [curve];
    const region = regionOf(first, motion, timeUnit, phrases.failing);
    if (region !== null) marks.push(region);
    return { y, unit, index, name, share: 1, marks };
  });
  for (const { name, failsAt } of motion.holds) {
    if (failsAt === null) {
      sentences.push(phrases.sayHolds(name));
      continue;
    }
    const at = `${plainText(x.quantity)} = ${sayNumber(timeUnit.fromSI(failsAt.t), timeUnit.text, wording)}`;
    const where = panels.map(
      ({ name: stateName, unit, index }) =>
        `${plainText(symbolText(stateName))} = ${sayNumber(unit.fromSI(failsAt.state[index]), unit.text, wording)}`,
    );
    sentences.push(phrases.sayFails({ condition: name, at, state: where.join(', ') }));
  }
  return {
    kind: 'chart',
    name: figureName('validity', ...shown),
    title: phrases.validityTitle(shown.map((name) => plainText(symbolText(name))).join(', ')),
    description: sentences.length === 0 ? phrases.sayNothing() : sentences.join(' '),
    ...wording,
    statement: [],
    x,
    panels: panels.map(({ y, share, marks }) => ({ y, share, marks })),
  };
}

function regionOf(
  hold: Motion['holds'][number] | undefined,
  motion: Motion,
  unit: AxisUnit,
  sayFailing: (condition: string) => string,
): RegionMark | null {
  if (hold === undefined || hold.failsAt === null) return null;
  return {
    kind: 'region',
    look: 'hatched',
    role: 'quiet',
    name: upright(sayFailing(hold.name)),
    from: unit.fromSI(hold.failsAt.t),
    to: unit.fromSI(motion.endS),
  };
}

function timesOf({ startS, endS, breaks }: Motion): Float64Array {
  const even = Float64Array.from({ length: PLACES + 1 }, (_, i) => startS + ((endS - startS) * i) / PLACES);
  return Float64Array.from([...even, ...breaks]).sort();
}
