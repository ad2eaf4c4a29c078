import {
  listStations,
  type PooledOutlook,
  rehearseClass,
  type StationOutlook,
} from '../../../src/classroom/index.ts';
import { inItsUnit, type LabResult } from '../../../src/lab/index.ts';
import { type Outcome, succeed } from '../../../src/problem/index.ts';
import { formatMeasured, formatNumber, formatUnit, fromSI } from '../../../src/quantity/index.ts';
import type { LabSource } from '../source.ts';
import type { Task } from '../task.ts';

export interface StationsQuestion {
  readonly source: LabSource;
  /** How many groups there are; null for as many as the lab has. */
  readonly groups: number | null;
}

/** What is expected of one result, printed. */
export interface ExpectedResult {
  readonly name: string;
  readonly expected: string;
  readonly theory: string | null;
  /** Central 95 % of rehearsals. */
  readonly band: string;
}

export interface ExpectedAtStation {
  readonly name: string;
  readonly values: string;
  readonly results: readonly ExpectedResult[];
}

/** What the class finds together. */
export interface ExpectedOfClass extends ExpectedResult {
  readonly is: string;
  readonly groups: number;
  /** What the class would state from its own fit, in the mean. */
  readonly stated: string | null;
  /** Share of classes whose own 95 % interval holds the theory, in per cent. */
  readonly coverage: string | null;
}

export interface StationsAnswer {
  readonly stations: readonly ExpectedAtStation[];
  readonly pooled: readonly ExpectedOfClass[];
  readonly rehearsals: number;
  readonly firstFailure: string | null;
}

/** What every station and the class together are expected to find. */
export const stationsTask: Task<StationsQuestion, StationsAnswer> = {
  async run(room, { source, groups }, report): Promise<Outcome<StationsAnswer>> {
    const opened = room.openAlone(source);
    if (!opened.ok) return opened;
    const { lab, pipeline } = opened.value;
    const stations = listStations(lab, groups === null ? {} : { groups });
    const rehearsed = rehearseClass(pipeline, stations, {
      progress: (done, total) => report.progress(done, total, 'classes'),
    });
    if (!rehearsed.ok) return rehearsed;
    const { pooled, rehearsals, firstFailure } = rehearsed.value;
    return succeed(
      {
        stations: rehearsed.value.stations.map(({ station, results }) => ({
          name: station.name,
          values: station.set
            .map(({ quantity, value }) => `${quantity.name} = ${inItsUnit(quantity, value)}`)
            .join(', '),
          results: results.map(tellExpected),
        })),
        pooled: pooled.map(tellPooled),
        rehearsals,
        firstFailure: firstFailure?.message ?? null,
      },
      rehearsed.warnings,
    );
  },
};

type Expected = Pick<StationOutlook, 'result' | 'theory' | 'mean' | 'spread' | 'low' | 'high'>;

function tellExpected({ result, theory, mean, spread, low, high }: Expected): ExpectedResult {
  const { unit } = result;
  const own = fromSI(spread, unit, 'interval');
  return {
    name: result.name,
    expected:
      own > 0
        ? formatMeasured({
            value: fromSI(mean, unit, 'point'),
            standardUncertainty: own,
            unit,
            notation: 'plus-minus',
            decimalMark: '.',
          })
        : `${sayPlain(mean, result)} ${formatUnit(unit)}`.trim(),
    theory: Number.isFinite(theory) ? `${sayPlain(theory, result)} ${formatUnit(unit)}`.trim() : null,
    band: `${sayPlain(low, result, own)} … ${sayPlain(high, result, own)}`,
  };
}

function tellPooled(outlook: PooledOutlook): ExpectedOfClass {
  const { result, groups, stated, coverage } = outlook;
  return {
    ...tellExpected(outlook),
    is: result.is,
    groups,
    stated: Number.isFinite(stated)
      ? `${formatNumber(fromSI(stated, result.unit, 'interval'), { significant: 2 })} ${formatUnit(result.unit)}`.trim()
      : null,
    coverage: Number.isFinite(coverage) ? `${formatNumber(100 * coverage, { decimals: 0 })} %` : null,
  };
}

/** With the digits of the scatter where there is one. */
function sayPlain(si: number, { unit }: LabResult, spread = 0): string {
  const value = fromSI(si, unit, 'point');
  if (!(spread > 0)) return formatNumber(value, { significant: 4 });
  return formatNumber(value, { decimals: Math.min(Math.max(1 - Math.floor(Math.log10(spread)), 0), 12) });
}
