import type { TrueColumn, TrueRun } from './exact-step.ts';
import { rateOf } from './known-motion.ts';

/** The rate of change of one column with another, both known at any time. */
export function trueRate(of: TrueColumn, against: TrueColumn, { motion }: TrueRun): TrueColumn {
  const [rise, run] = [of, against].map((column) =>
    rateOf((t) => column(Float64Array.of(t))[0] ?? Number.NaN, motion),
  );
  return (times) => times.map((t) => rise(t) / run(t));
}
