import type { Slip } from '../lab/index.ts';

/** What may have produced reported numbers. */
export type Cause =
  | { readonly kind: 'correct' }
  | { readonly kind: 'slip'; readonly slip: Slip; readonly from: 'lab' | 'general' }
  | { readonly kind: 'pair'; readonly slips: readonly [Slip, Slip] }
  | { readonly kind: 'effect'; readonly effect: string; readonly times: number }
  | { readonly kind: 'unknown' };

/** A cause with what it predicts for every result of the lab, SI. */
export interface Hypothesis {
  readonly cause: Cause;
  readonly prior: number;
  /** Where its prediction lies: one place, or several of equal weight for an effect of unknown size. */
  readonly centres: readonly Prediction[];
}

/** One prediction: centre and covariance, m and m × m. */
export interface Prediction {
  readonly centre: Float64Array;
  readonly covariance: Float64Array;
  /** For an effect how many times as large it is here; 1 otherwise. */
  readonly times: number;
}

/**
 * How the causes stand before anything is reported, and how broad "nothing known" is. All are common practice, no
 * source; docs/mark.md says what they come to.
 */
export const PRIORS = {
  correct: 0.5,
  /** Shared among the single slips, those of the lab twice as heavy as those of the general set. */
  slips: 0.25,
  /** Shared among pairs of slips. */
  pairs: 0.05,
  /** Shared among the effects. */
  effects: 0.1,
  unknown: 0.1,
} as const;

/** An effect is taken for plausible up to this many times what the lab assumes, and noticed from the lower one on. */
export const EFFECT_TIMES = { least: 1.5, most: 4, places: 11 } as const;

/** "Nothing known" spreads each result by this share of its expected size, as Student's t with 3 degrees of freedom. */
export const UNKNOWN_SPREAD = 0.5;

/** Gives each cause its prior; groups without a member leave theirs to the others. */
export function withPriors(causes: readonly Omit<Hypothesis, 'prior'>[]): readonly Hypothesis[] {
  const weightOf = ({ cause }: Omit<Hypothesis, 'prior'>): number =>
    cause.kind === 'slip' && cause.from === 'lab' ? 2 : 1;
  const share = {
    correct: PRIORS.correct,
    slip: PRIORS.slips,
    pair: PRIORS.pairs,
    effect: PRIORS.effects,
    unknown: PRIORS.unknown,
  };
  const totals = new Map<string, number>();
  for (const one of causes) totals.set(one.cause.kind, (totals.get(one.cause.kind) ?? 0) + weightOf(one));
  const present = [...totals.keys()].reduce((sum, kind) => sum + (isKind(kind) ? share[kind] : 0), 0);
  return causes.map((one) => ({
    ...one,
    prior: (share[one.cause.kind] * weightOf(one)) / (totals.get(one.cause.kind) ?? 1) / present,
  }));
}

function isKind(kind: string): kind is Cause['kind'] {
  return ['correct', 'slip', 'pair', 'effect', 'unknown'].includes(kind);
}
