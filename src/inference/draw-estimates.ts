import { fail, type Outcome, type Place, problem, succeed } from '../problem/index.ts';
import type { Estimate } from '../quantity/index.ts';
import { sine } from '../wasm/index.ts';
import { type Correlation, choleskyFactor, correlatedGroups, correlationMatrix } from './correlations.ts';
import { normalProbability, normalTail } from './normal-distribution.ts';
import { normalQuantile } from './normal-quantile.ts';
import type { RandomSource } from './random-source.ts';
import { studentQuantile } from './student-distribution.ts';
import { studentScores } from './student-scores.ts';

/** A way from points of the unit cube to values of k estimates, each by its own distribution. */
export interface EstimateDraw {
  /** One draw of all estimates into `out`, k values; takes k uniform numbers from the stream, whatever they are. */
  draw(random: RandomSource, out: Float64Array): void;
  /** The values that belong to a point of (0, 1)ᵏ: for quasi-random and stratified draws. `out` may be `point`. */
  place(point: Float64Array, out: Float64Array): void;
}

const HALF_STEP = 5.551115123125783e-17;

/**
 * Prepares draws of estimates from their joint distribution.
 *
 * A normal estimate is drawn from the normal distribution, a rectangular one between its limits, one with few
 * degrees of freedom as value + u·t (JCGM 101:2008, 6.4.9); exact ones stay. Correlated estimates are joined by
 * a Gaussian copula, whose coefficients are set so that normal and rectangular pairs have the stated correlation.
 *
 * Fails with 'impossible-correlations' where no joint distribution has them.
 */
export function prepareDraws(
  estimates: readonly Estimate[],
  correlations: readonly Correlation[] = [],
  place: Place = { step: 'draws' },
): Outcome<EstimateDraw> {
  return prepare(estimates, correlations, place, studentScores);
}

function prepare(
  estimates: readonly Estimate[],
  correlations: readonly Correlation[],
  place: Place,
  tOf: StudentScores,
): Outcome<EstimateDraw> {
  const scores = estimates.map((estimate) => scoreOf(estimate, tOf));
  const groups: { members: readonly number[]; lower: Float64Array }[] = [];
  for (const members of correlatedGroups(estimates.length, correlations)) {
    if (members.length === 1) continue;
    const lower = copulaOf(estimates, correlations, members);
    if (lower === null) {
      return fail(
        problem(
          'impossible-correlations',
          place,
          `The correlations among ${members.length} quantities contradict one another: ` +
            'no quantities can be correlated so.',
          'Make the coefficients smaller, or check their signs.',
        ),
      );
    }
    groups.push({ members, lower });
  }
  const joined = new Set(groups.flatMap((group) => group.members));
  const z = new Float64Array(estimates.length);
  const toValues = (point: Float64Array, out: Float64Array): void => {
    for (const { members, lower } of groups) {
      const m = members.length;
      for (let a = 0; a < m; a += 1) z[a] = normalQuantile(point[members[a]]);
      for (let a = 0; a < m; a += 1) {
        let sum = 0;
        for (let b = 0; b <= a; b += 1) sum += lower[a * m + b] * z[b];
        out[members[a]] = scores[members[a]].fromScore(sum);
      }
    }
    for (let i = 0; i < scores.length; i += 1)
      if (!joined.has(i)) out[i] = scores[i].fromProbability(point[i]);
  };
  const point = new Float64Array(estimates.length);
  return succeed({
    draw(random, out) {
      for (let i = 0; i < point.length; i += 1) point[i] = random.uniform() + HALF_STEP;
      toValues(point, out);
    },
    place: toValues,
  });
}

/**
 * One draw of all estimates: see prepareDraws, which is faster for many.
 *
 * @param out k values
 * @throws RangeError for correlations that no joint distribution has
 */
export function drawEstimates(
  estimates: readonly Estimate[],
  correlations: readonly Correlation[],
  random: RandomSource,
  out: Float64Array,
): void {
  const prepared = prepare(estimates, correlations, { step: 'draws' }, exactStudentScores);
  if (!prepared.ok) throw new RangeError(prepared.problems[0].message);
  prepared.value.draw(random, out);
}

/** For given degrees of freedom, t as a function of the normal score. */
type StudentScores = (degreesOfFreedom: number) => (z: number) => number;

/** Without a table, for a single draw. */
const exactStudentScores: StudentScores = (degreesOfFreedom) => (z) => {
  const t = -studentQuantile(normalTail(Math.abs(z)), degreesOfFreedom);
  return z < 0 ? -t : t;
};

interface Score {
  fromProbability(p: number): number;
  fromScore(z: number): number;
}

function scoreOf(estimate: Estimate, tOf: StudentScores): Score {
  const { value, standardUncertainty: u, degreesOfFreedom, distribution, halfWidth } = estimate;
  if (distribution === 'exact' || u === 0) return { fromProbability: () => value, fromScore: () => value };
  if (distribution === 'rectangular') {
    const half = halfWidth ?? u * Math.sqrt(3);
    return {
      fromProbability: (p) => value + half * (2 * p - 1),
      fromScore: (z) => value + half * (2 * normalProbability(z) - 1),
    };
  }
  if (distribution === 't' && degreesOfFreedom < 1e6) {
    const t = tOf(degreesOfFreedom);
    const fromScore = (z: number): number => value + u * t(z);
    return { fromScore, fromProbability: (p) => fromScore(normalQuantile(p)) };
  }
  return { fromProbability: (p) => value + u * normalQuantile(p), fromScore: (z) => value + u * z };
}

/** Cholesky factor of the copula's correlations among the members; null where they contradict one another. */
function copulaOf(
  estimates: readonly Estimate[],
  correlations: readonly Correlation[],
  members: readonly number[],
): Float64Array | null {
  const m = members.length;
  const all = correlationMatrix(estimates.length, correlations);
  const plain = new Float64Array(m * m);
  const adjusted = new Float64Array(m * m);
  members.forEach((i, a) => {
    members.forEach((j, b) => {
      const r = all[i * estimates.length + j];
      plain[a * m + b] = r;
      adjusted[a * m + b] = i === j ? 1 : copulaCoefficient(r, estimates[i], estimates[j]);
    });
  });
  return choleskyFactor(adjusted, m) ?? choleskyFactor(plain, m);
}

/** The coefficient of the normal scores at which two estimates have the correlation r (Kruskal 1958). */
function copulaCoefficient(r: number, a: Estimate, b: Estimate): number {
  const flat = (a.distribution === 'rectangular' ? 1 : 0) + (b.distribution === 'rectangular' ? 1 : 0);
  if (flat === 2) return 2 * sine((Math.PI * r) / 6);
  if (flat === 1) return Math.max(-1, Math.min(1, r * Math.sqrt(Math.PI / 3)));
  return r;
}
