import { drawEstimates, type RandomSource } from '../inference/index.ts';
import type { Lab } from '../lab/index.ts';

/**
 * Random draws of the uncertain base quantities, as deviations from their values: one row a draw.
 *
 * @param uncertain indices of the base quantities
 * @returns draws × uncertain, row-major, SI
 */
export function drawDeviations(
  lab: Lab,
  uncertain: readonly number[],
  draws: number,
  random: RandomSource,
): Float64Array {
  const estimates = uncertain.flatMap((index) => lab.quantities.base[index]?.estimate ?? []);
  const placeOf = new Map(uncertain.map((index, place) => [index, place]));
  const correlations = lab.correlations.flatMap(({ between: [first, second], is }) => {
    const a = placeOf.get(first);
    const b = placeOf.get(second);
    return a === undefined || b === undefined ? [] : [{ between: [a, b] as const, is }];
  });
  const deviations = new Float64Array(draws * uncertain.length);
  for (let draw = 0; draw < draws; draw++) {
    const row = deviations.subarray(draw * uncertain.length, (draw + 1) * uncertain.length);
    drawEstimates(estimates, correlations, random, row);
    estimates.forEach((estimate, input) => {
      row[input] -= estimate.value;
    });
  }
  return deviations;
}
