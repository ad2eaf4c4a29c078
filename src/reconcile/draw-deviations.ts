import { prepareDraws, quasiRandomPoints, type RandomSource } from '../inference/index.ts';
import type { Lab } from '../lab/index.ts';
import type { Outcome } from '../problem/index.ts';
import { succeed } from '../problem/index.ts';

/**
 * Draws of the uncertain base quantities from their joint distribution, as deviations from their values.
 *
 * The draws are quasi-random with a random start: a hundred of them find a spread as well as several hundred
 * independent ones. Fails where the stated correlations contradict one another.
 *
 * @param uncertain indices of the base quantities
 * @returns draws × uncertain, row-major, SI
 */
export function drawDeviations(
  lab: Lab,
  uncertain: readonly number[],
  draws: number,
  random: RandomSource,
): Outcome<Float64Array> {
  const count = uncertain.length;
  const deviations = new Float64Array(draws * count);
  if (count === 0) return succeed(deviations);
  // About 0, so that the deviations are the same whatever the values are.
  const estimates = uncertain.flatMap((index) => {
    const estimate = lab.quantities.base[index]?.estimate;
    return estimate === undefined ? [] : [{ ...estimate, value: 0 }];
  });
  const placeOf = new Map(uncertain.map((index, place) => [index, place]));
  const correlations = lab.correlations.flatMap(({ between: [first, second], is }) => {
    const a = placeOf.get(first);
    const b = placeOf.get(second);
    return a === undefined || b === undefined ? [] : [{ between: [a, b] as const, is }];
  });
  const prepared = prepareDraws(estimates, correlations, { file: lab.file, step: 'correlations' });
  if (!prepared.ok) return prepared;
  const points = quasiRandomPoints(count, random);
  for (let draw = 0; draw < draws; draw++) {
    const row = deviations.subarray(draw * count, (draw + 1) * count);
    points.next(row);
    prepared.value.place(row, row);
  }
  return succeed(deviations);
}
