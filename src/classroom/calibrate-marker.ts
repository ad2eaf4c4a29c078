import { randomSource } from '../inference/index.ts';
import { type Outcome, succeed } from '../problem/index.ts';
import { applySlips, handledBy } from './apply-slips.ts';
import { nameCause } from './explain-cause.ts';
import type { Cause } from './hypotheses.ts';
import { markReport, type ReportedNumber } from './mark-report.ts';
import type { Marker } from './prepare-marker.ts';

/** What became of reports in which one and the same cause was planted. */
export interface PlantedCause {
  readonly name: string;
  readonly kind: Cause['kind'];
  readonly planted: number;
  /** How often the planted cause came first, and among the first three. */
  readonly first: number;
  readonly amongThree: number;
  /** What came first instead, by its kind. */
  readonly insteadKinds: ReadonlyMap<Cause['kind'], number>;
  /** The name that came first instead most often; empty where none did. */
  readonly mostOften: string;
}

export interface CalibrateOptions {
  /** Reports for each cause; default 40. */
  readonly reports?: number;
  /** Must not be the marker's own seed: its predictions would have seen the reports. */
  readonly seed?: number;
  /** Digits to which reports are rounded; default 3. */
  readonly digits?: number;
}

/**
 * Calibrates a marker by rehearsal: plants known slips in rehearsed reports of groups that it has not seen, and counts
 * how often the right cause is ranked first.
 */
export function calibrateMarker(
  marker: Marker,
  options: CalibrateOptions = {},
): Outcome<readonly PlantedCause[]> {
  const { bench, slips } = marker;
  const reports = options.reports ?? 40;
  const random = randomSource(options.seed ?? 1_000_003);
  const planted: readonly Cause[] = [
    { kind: 'correct' },
    ...slips.map(({ slip, from }): Cause => ({ kind: 'slip', slip, from })),
  ];
  const found: PlantedCause[] = [];
  for (const [place, cause] of planted.entries()) {
    const name = nameCause(cause);
    const own = cause.kind === 'slip' ? [cause.slip] : [];
    const ranks: { readonly rank: number; readonly first: Cause }[] = [];
    for (let index = 0; index < reports; index++) {
      const stream = random.fork(place).fork(index);
      const runs = bench.takeRuns(bench.drawApparatus(stream.fork(-1)), stream, undefined, handledBy(own));
      const results = runs.ok ? applySlips(bench, own, runs.value) : runs;
      // A group whose run cannot be reduced reports nothing.
      if (!results.ok || !results.value.values.every(Number.isFinite)) continue;
      const marked = markReport(marker, roundReports(marker, results.value.values, options.digits ?? 3));
      if (!marked.ok) return marked;
      const { causes } = marked.value;
      const [first] = causes;
      if (first === undefined) continue;
      ranks.push({
        rank: causes.findIndex((ranked) => nameCause(ranked.cause) === name),
        first: first.cause,
      });
    }
    found.push(countRanks(name, cause.kind, ranks));
  }
  return succeed(found);
}

function roundReports({ bench }: Marker, values: Float64Array, digits: number): readonly ReportedNumber[] {
  return bench.pipeline.lab.results.map((result, index) => {
    const value = Number(values[index].toPrecision(digits));
    const step = value === 0 ? 0 : 10 ** (Math.floor(Math.log10(Math.abs(value))) - digits + 1);
    return { result, value, standardUncertainty: step / Math.sqrt(12) };
  });
}

function countRanks(
  name: string,
  kind: Cause['kind'],
  ranks: readonly { readonly rank: number; readonly first: Cause }[],
): PlantedCause {
  const wrong = ranks.filter(({ rank }) => rank !== 0).map(({ first }) => first);
  const names = new Map<string, number>();
  const insteadKinds = new Map<Cause['kind'], number>();
  for (const cause of wrong) {
    names.set(nameCause(cause), (names.get(nameCause(cause)) ?? 0) + 1);
    insteadKinds.set(cause.kind, (insteadKinds.get(cause.kind) ?? 0) + 1);
  }
  const [mostOften = ['', 0]] = [...names].sort(([, a], [, b]) => b - a);
  return {
    name,
    kind,
    planted: ranks.length,
    first: ranks.filter(({ rank }) => rank === 0).length,
    amongThree: ranks.filter(({ rank }) => rank >= 0 && rank < 3).length,
    insteadKinds,
    mostOften: mostOften[0],
  };
}
