import { listNames, type Place, type Problem, problem, warning } from '../problem/index.ts';
import { log10 } from '../wasm/index.ts';

/** Above this the last half of the digits of a parameter hangs on the last digits of the readings. */
const DOUBTFUL = 1e7;

/**
 * What to say of parameters that the readings can hardly tell apart.
 *
 * @param entanglement per parameter, see LeastSquares
 * @param inverse      inverse normal matrix, k×k, for naming the partner
 * @param limit        above it the design counts as singular: 1e13 for columns given as doubles
 * @returns at most one problem: an error 'singular-design' or a warning 'ill-conditioned'
 */
export function judgeConditioning(
  entanglement: Float64Array,
  inverse: Float64Array,
  names: readonly string[],
  limit: number,
  place: Place,
): Problem | null {
  let worst = 0;
  for (let j = 1; j < entanglement.length; j += 1) {
    if (!(entanglement[j] <= entanglement[worst])) worst = j;
  }
  const size = entanglement[worst];
  if (!(size < limit)) {
    const tangled = names.filter((_, j) => !(entanglement[j] < limit));
    return problem(
      'singular-design',
      place,
      tangled.length === 1
        ? `The readings say nothing about ${tangled[0]}: its column is zero or made of the others.`
        : `The readings cannot tell ${listNames(tangled)} apart: each can be made up by the others.`,
      'Leave one of them out, hold it at a known value, or take readings over a wider range.',
    );
  }
  if (size < DOUBTFUL) return null;
  const partner = closestPartner(worst, inverse, entanglement.length);
  return warning(
    'ill-conditioned',
    place,
    `${names[worst]} and ${names[partner]} are hardly told apart by these readings: ` +
      `about ${Math.floor(log10(size))} digits are lost between them.`,
    'Take readings over a wider range, shift the origin of x, or hold one of them.',
  );
}

/** The parameter most correlated with the given one. */
function closestPartner(of: number, inverse: Float64Array, k: number): number {
  let partner = of;
  let most = -1;
  for (let j = 0; j < k; j += 1) {
    if (j === of) continue;
    const correlation = Math.abs(
      inverse[of * k + j] / Math.sqrt(inverse[of * k + of]) / Math.sqrt(inverse[j * k + j]),
    );
    if (correlation > most) {
      most = correlation;
      partner = j;
    }
  }
  return partner;
}

/**
 * What to say of parameters that the readings say nothing about.
 *
 * @param idle      parameters without influence, or that others imitate
 * @param imitating those others, where there are any
 */
export function tellIdle(
  idle: readonly number[],
  imitating: readonly number[],
  names: readonly string[],
  place: Place,
): Problem {
  const tangled = [...idle, ...imitating].sort((a, b) => a - b).map((j) => names[j]);
  const message =
    imitating.length > 0
      ? `The readings cannot tell ${listNames(tangled)} apart at the values found: what one changes the others can restore, so none of them is known alone.`
      : `The readings say nothing about ${listNames(tangled)} at the values found: no fitted value changes with ${idle.length === 1 ? 'it' : 'them'}.`;
  return warning(
    'no-influence',
    place,
    message,
    'Start from other values, hold what is already known, or leave it out.',
  );
}
