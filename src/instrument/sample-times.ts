import type { RandomSource } from '../inference/index.ts';
import { fail, type Outcome, problem, succeed } from '../problem/index.ts';

const MOST_SAMPLES = 2_000_000;
/** Points of a motion in the continuous limit, before those near breaks are added. */
const DENSE_POINTS = 1024;
/** Halvings towards each break: the last point before it stands 2⁻²⁰ of a dense interval away. */
const HALVINGS = 20;

interface Stretch {
  readonly startS: number;
  readonly endS: number;
  readonly breaks: Float64Array;
}

/**
 * Times of an instrument that looks at equal intervals, from `firstS` to the end of the motion.
 *
 * With a random source the first look comes at a random moment of the first interval.
 *
 * @param intervalS s, > 0
 */
export function regularTimes(
  motion: Stretch,
  firstS: number,
  intervalS: number,
  random: RandomSource | null,
  instrument: string,
): Outcome<Float64Array> {
  const first = firstS + (random === null ? 0 : random.uniform() * intervalS);
  // A look that rounding puts a hair after the end is meant to be at the end.
  const count = Math.floor((motion.endS - first) / intervalS + 1e-9) + 1;
  if (count > MOST_SAMPLES) {
    return fail(
      problem(
        'too-many-readings',
        { step: instrument },
        `${count} readings would be taken in ${motion.endS - first} s; at most ${MOST_SAMPLES} can be worked with.`,
        'Take a lower rate.',
      ),
    );
  }
  const times = new Float64Array(Math.max(0, count));
  for (let i = 0; i < times.length; i++) times[i] = Math.min(first + i * intervalS, motion.endS);
  return succeed(times);
}

/**
 * Times that stand for an instrument that looks all the time: dense, denser towards breaks and ends, with both
 * sides of each break (the side before stands at the next smaller number) and the end.
 */
export function denseTimes(motion: Stretch, firstS: number): Float64Array {
  const times: number[] = [];
  const add = (t: number): void => {
    if (t >= firstS && (times.length === 0 || t > times[times.length - 1])) times.push(t);
  };
  const span = motion.endS - motion.startS;
  let left = motion.startS;
  for (let i = 0; i <= motion.breaks.length; i++) {
    const right = i === motion.breaks.length ? motion.endS : motion.breaks[i];
    if (right <= left) continue;
    const count = Math.max(64, Math.ceil((DENSE_POINTS * (right - left)) / span));
    const step = (right - left) / count;
    add(left);
    for (let j = HALVINGS; j >= 1; j--) add(left + step * 2 ** -j);
    for (let j = 1; j < count; j++) add(left + j * step);
    for (let j = 1; j <= HALVINGS; j++) add(right - step * 2 ** -j);
    add(right >= motion.endS ? right : nextBefore(right));
    left = right;
  }
  return Float64Array.from(times);
}

/** A number just before t, at most two units in the last place away. */
export function nextBefore(t: number): number {
  return t - Math.max(Math.abs(t) * Number.EPSILON, Number.MIN_VALUE);
}
