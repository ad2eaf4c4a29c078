import { type ChartFigure, fitFigure, rehearsalFigure } from '../../../src/figure/index.ts';
import type { Outcome } from '../../../src/problem/index.ts';
import { succeed } from '../../../src/problem/index.ts';
import {
  coherentUnit,
  formatMeasured,
  formatNumber,
  formatUnit,
  fromSI,
  type Unit,
} from '../../../src/quantity/index.ts';
import {
  allEffects,
  type Prediction,
  plannedGroups,
  predict,
  type Rehearsal,
  type RehearsedOutput,
  rehearse,
  valuesOfGroup,
} from '../../../src/run/index.ts';
import type { OpenedLab } from '../room.ts';
import type { LabSource } from '../source.ts';
import type { Task } from '../task.ts';
import { WORDING } from '../wording.ts';

export interface RehearseQuestion {
  readonly source: LabSource;
  readonly repeats: number;
  readonly seed: number;
  /** Whether each rehearsal has an apparatus of its own, within the uncertainties. */
  readonly drawsQuantities: boolean;
}

/** How one result came out under one setting, printed. */
export interface RehearsedResult {
  readonly name: string;
  readonly is: string;
  readonly group: string;
  readonly figure: ChartFigure;
  readonly mean: string;
  readonly limits: string;
  readonly singleRun: string | null;
  readonly reported: string | null;
  /** How far the full model is from theory, in scatters of the result; null where there is no theory. */
  readonly gap: { readonly percent: string; readonly inScatters: number } | null;
}

/** What one instrument shows in the first rehearsed run. */
export interface RehearsedReadings {
  readonly instrument: string;
  readonly columns: readonly string[];
  /** The first rows, printed. */
  readonly rows: readonly (readonly string[])[];
  readonly count: number;
}

export interface RehearseAnswer {
  readonly results: readonly RehearsedResult[];
  readonly readings: readonly RehearsedReadings[];
  /** Each fit of the first rehearsed run, with its readings. */
  readonly fits: readonly ChartFigure[];
  readonly repeats: number;
  readonly runs: number;
  readonly failed: number;
  readonly firstFailure: string | null;
}

/** Readings of one run that a person wants to see before the rest. */
const ROWS_SHOWN = 8;

/** The plan with simulated runs, many times: what the instruments see, and how much the results scatter. */
export const rehearseTask: Task<RehearseQuestion, RehearseAnswer> = {
  async run(room, { source, ...options }, report): Promise<Outcome<RehearseAnswer>> {
    const opened = await room.open(source);
    if (!opened.ok) return opened;
    const { lab, pipeline } = opened.value;
    const rehearsed = rehearse(pipeline, {
      ...options,
      keepsReadings: true,
      progress: (done, total) => report.progress(done, total, 'rehearsals'),
    });
    if (!rehearsed.ok) return rehearsed;
    const predicted = predictGroups(opened.value);
    return succeed(
      {
        results: rehearsed.value.outputs.map((one) => tellResult(one, rehearsed.value, predicted)),
        readings: readingsOf(rehearsed.value),
        fits: fitsOf(opened.value, rehearsed.value),
        repeats: rehearsed.value.repeats,
        runs: lab.plan.repeats,
        failed: rehearsed.value.failed,
        firstFailure: rehearsed.value.firstFailure?.message ?? null,
      },
      rehearsed.warnings,
    );
  },
};

type PredictedGroups = readonly Prediction['results'][];

/** What theory and the full model expect without noise, for each group of planned runs. */
function predictGroups({ lab, pipeline }: OpenedLab): PredictedGroups {
  return plannedGroups(lab).map(({ when }) => {
    const full = predict(pipeline, { settings: when });
    return full.ok ? full.value.results : [];
  });
}

function tellResult(
  rehearsed: RehearsedOutput,
  { groups }: Rehearsal,
  predicted: PredictedGroups,
): RehearsedResult {
  const { result, group } = rehearsed.output;
  const label = group === null ? '' : (groups[group]?.label ?? '');
  const expected = predicted[group ?? 0]?.find(({ name }) => name === result.name);
  const theory = expected?.theory?.value ?? null;
  const full = expected?.predicted.value ?? null;
  const unit = (value: number, as: 'point' | 'interval'): number => fromSI(value, result.unit, as);
  const spread = unit(rehearsed.spread, 'interval');
  return {
    name: result.name,
    is: result.is,
    group: label === 'as given' ? '' : label,
    figure: rehearsalFigure(
      rehearsed,
      { theory, ideal: null, full, group: groups.length > 1 && label !== '' ? label : null },
      WORDING,
    ),
    mean: measured(unit(rehearsed.mean, 'point'), spread, result.unit),
    limits: `${printed(unit(rehearsed.low, 'point'), spread)} … ${printed(unit(rehearsed.high, 'point'), spread)}`,
    singleRun: uncertainty(unit(rehearsed.singleRun, 'interval'), result.unit),
    reported: uncertainty(unit(rehearsed.reported, 'interval'), result.unit),
    gap:
      theory === null || full === null || !(rehearsed.spread > 0)
        ? null
        : {
            percent: formatNumber((100 * (full - theory)) / Math.abs(theory), { significant: 2 }),
            inScatters: Math.abs(full - theory) / rehearsed.spread,
          },
  };
}

function measured(value: number, standardUncertainty: number, unit: Unit): string {
  if (!(standardUncertainty > 0)) return `${formatNumber(value, { significant: 4 })} ${formatUnit(unit)}`;
  return formatMeasured({ value, standardUncertainty, unit, notation: 'plus-minus', decimalMark: '.' });
}

/** A limit with the digits of the scatter. */
function printed(value: number, spread: number): string {
  if (!(spread > 0)) return formatNumber(value, { significant: 4 });
  return formatNumber(value, { decimals: Math.min(Math.max(1 - Math.floor(Math.log10(spread)), 0), 12) });
}

function uncertainty(value: number, unit: Unit): string | null {
  if (Number.isNaN(value)) return null;
  return `${formatNumber(value, { significant: 2 })} ${formatUnit(unit)}`.trim();
}

function readingsOf({ readings }: Rehearsal): readonly RehearsedReadings[] {
  return (readings[0]?.readings ?? []).map(({ instrument, columns }) => {
    const count = columns[0]?.values.length ?? 0;
    return {
      instrument,
      columns: columns.map(({ name, dimension }) => {
        const unit = formatUnit(coherentUnit(dimension));
        return unit === '' || name.includes('(') ? name : `${name} (${unit})`;
      }),
      rows: Array.from({ length: Math.min(count, ROWS_SHOWN) }, (_, row) =>
        columns.map(({ values }) => formatNumber(values[row] ?? Number.NaN, { significant: 6 })),
      ),
      count,
    };
  });
}

function fitsOf({ lab, pipeline }: OpenedLab, { groups, readings }: Rehearsal): readonly ChartFigure[] {
  const first = readings[0];
  const group = first === undefined ? undefined : groups[first.group];
  if (first === undefined || group === undefined) return [];
  const values = valuesOfGroup(pipeline, pipeline.nominal, group, allEffects(lab));
  const reduced = pipeline.reduce(first.readings, values, { keepsReports: true });
  return reduced.ok ? reduced.value.fits.map((fit) => fitFigure(fit, WORDING)) : [];
}
