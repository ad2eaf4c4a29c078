/** What a remainder says, in one of four words that documents and screens turn into sentences. */
export type Verdict = 'explained' | 'doubtful' | 'unexplained' | 'unknown';

/**
 * Coverage of the two limits between the verdicts: 95 % and 99.7 %, the usual two and three standard uncertainties
 * of a normal distribution (common practice, no source).
 */
const DOUBTFUL_BELOW = 0.05;
const UNEXPLAINED_BELOW = 0.0027;

/**
 * The verdict on a remainder whose probability to be at least as large by chance alone is `probability`.
 *
 * @param probability two-sided, 0 to 1; NaN where the remainder's uncertainty is not known
 */
export function judge(probability: number): Verdict {
  if (Number.isNaN(probability)) return 'unknown';
  if (probability >= DOUBTFUL_BELOW) return 'explained';
  return probability >= UNEXPLAINED_BELOW ? 'doubtful' : 'unexplained';
}

/** The verdict as a plain sentence. */
export function sayVerdict(verdict: Verdict): string {
  switch (verdict) {
    case 'explained':
      return 'nothing left to explain: what remains is within its uncertainty';
    case 'doubtful':
      return 'doubtful: what remains is larger than chance would often make it; take more runs';
    case 'unexplained':
      return 'something is missing: what remains is larger than all stated uncertainties allow';
    case 'unknown':
      return 'not to be judged: the runs and the quantities state no uncertainty that it could be held against';
  }
}
