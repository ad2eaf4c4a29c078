import type { RandomSource } from '../inference/index.ts';

/** Standard deviation of an error that is anywhere within one division with equal chance: 1/√12 of it. */
export const ROUNDING_DEVIATION = 1 / Math.sqrt(12);

/**
 * Replaces times by the whole ticks of a clock that began to tick at a random moment before the motion.
 *
 * The moment is drawn once for a run: it shifts all stamps alike by up to half a tick, and each stamp then
 * has its own rounding of up to half a tick. Nothing happens with a clock of 0 s, or without a random source.
 */
export function stampInWholeTicks(times: Float64Array, clockS: number, random: RandomSource | null): void {
  if (random === null || clockS <= 0) return;
  const began = random.uniform() - 0.5;
  for (let i = 0; i < times.length; i++) times[i] = Math.round(times[i] / clockS + began) * clockS;
}

/** Replaces readings by the nearest multiples of the resolution; nothing happens with a resolution of 0. */
export function roundToResolution(readings: Float64Array, resolution: number): void {
  if (resolution <= 0) return;
  for (let i = 0; i < readings.length; i++) readings[i] = Math.round(readings[i] / resolution) * resolution;
}
