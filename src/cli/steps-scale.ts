import type { Problem } from '../problem/index.ts';

/** What the errors of classroom steps are held against. */
export interface StepsScale {
  readonly from: 'measured' | 'rehearsed' | 'nothing';
  /** Standard uncertainty by the result's name, SI. */
  readonly uncertainties: ReadonlyMap<string, number>;
  readonly notes: readonly Problem[];
}
