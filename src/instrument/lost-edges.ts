import { type Problem, warning } from '../problem/index.ts';
import { ln } from '../wasm/index.ts';

/** Largest relative difference of an interval, cut into equal parts, from what its neighbours let expect. */
const LIKENESS = 0.15;
/** Ticks by which an interval must be too long: rounding makes one of one tick two, and edges none the fewer. */
const LEAST_TICKS = 4;

/**
 * Adds to the counts where edges were lost: where an interval is two or three times what its neighbours let
 * expect.
 *
 * The interval is compared with the geometric mean of the nearest on both sides, carried on by their own
 * change. Where the intervals grow towards it from both sides, the wheel rather turned back there, and nothing
 * is added. Two intervals are needed on either side.
 *
 * @param times s, rising, one for each edge that was stamped
 * @param counts number of each edge; later ones are raised where edges are missing
 * @param clockS step of the stamps; 0 where not known
 * @returns a note for each place
 * Source: common practice, no source.
 */
export function countPastLostEdges(
  times: Float64Array,
  counts: Float64Array,
  clockS: number,
  instrument: string,
): Problem[] {
  const notes: Problem[] = [];
  let raised = 0;
  for (let i = 0; i < times.length; i++) {
    if (i >= 3 && i + 2 < times.length) {
      const interval = perEdge(times, counts, i, raised);
      const before = perEdge(times, counts, i - 1, 0);
      const earlier = perEdge(times, counts, i - 2, 0);
      const after = perEdge(times, counts, i + 1, 0);
      const later = perEdge(times, counts, i + 2, 0);
      const expected = Math.sqrt(before * after);
      const lost = Math.round(interval / expected) - 1;
      if (lost >= 1 && lost <= 2) {
        const alike = Math.abs(interval / (lost + 1) / expected - 1) < LIKENESS;
        const turnsBack = before > 1.05 * earlier && after > 1.05 * later;
        const regular = Math.abs(ln(before / earlier)) < 0.4 && Math.abs(ln(after / later)) < 0.4;
        const aboveRounding = interval - expected > LEAST_TICKS * clockS;
        if (alike && regular && aboveRounding && !turnsBack) {
          raised += lost;
          notes.push(
            warning(
              'lost-edge',
              { step: `readings of ${instrument}` },
              `between edge ${i} (${formatTime(times[i - 1])} s) and edge ${i + 1} (${formatTime(times[i])} s) ${lost === 1 ? 'an edge seems' : `${lost} edges seem`} to be lost: the interval is ${(interval / expected).toFixed(2)} times what its neighbours let expect. It is counted as ${lost + 1} spacings.`,
              'Set "lost edges: left" if the wheel really paused there.',
            ),
          );
        }
      }
    }
    counts[i] += raised;
  }
  return notes;
}

/** Interval before edge i for each spacing known to have passed in it; `raised` is not yet in counts[i]. */
function perEdge(times: Float64Array, counts: Float64Array, i: number, raised: number): number {
  return (times[i] - times[i - 1]) / (counts[i] + raised - counts[i - 1]);
}

/** Without the last digits, which are only the rounding of a double. */
function formatTime(t: number): string {
  return String(Number(t.toPrecision(11)));
}
