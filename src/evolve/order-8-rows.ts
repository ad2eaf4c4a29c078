import { order8 } from './order-8-coefficients.ts';

/** A row of the table: those of its coefficients that are not zero, by stage, in order. */
export function rowOf(prefix: string): readonly (readonly [stage: number, coefficient: number])[] {
  return Object.entries(order8).flatMap(([key, coefficient]) => {
    const stage = key.startsWith(prefix) ? Number(key.slice(prefix.length)) : Number.NaN;
    return Number.isInteger(stage) ? [[stage, coefficient] as const] : [];
  });
}

/** Where in the step a stage is taken, as a share of its length. */
export function placeOf(stage: number): number {
  if (stage === 1) return 0;
  if (stage === 12 || stage === 13) return 1;
  const found = Object.entries(order8).find(([key]) => key === `c${stage}`);
  if (found === undefined) throw new Error(`Stage ${stage} has no place.`);
  return found[1];
}
