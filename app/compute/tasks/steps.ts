import { type ChartFigure, stepsFigure } from '../../../src/figure/index.ts';
import type { LabResult } from '../../../src/lab/index.ts';
import type { Outcome } from '../../../src/problem/index.ts';
import { succeed } from '../../../src/problem/index.ts';
import { formatNumber, formatUnit, fromSI } from '../../../src/quantity/index.ts';
import { rehearse, type StepperTable, type StepRow, tabulateSteps } from '../../../src/run/index.ts';
import type { OpenedLab } from '../room.ts';
import type { LabSource } from '../source.ts';
import type { Task } from '../task.ts';
import { WORDING } from '../wording.ts';

export interface StepsQuestion {
  readonly source: LabSource;
}

export interface StepErrors {
  readonly result: string;
  readonly is: string;
  /** Of the errors, and of u. */
  readonly unit: string;
  readonly u: string | null;
  readonly steppers: readonly {
    readonly name: string;
    /** Largest step whose error and those of all smaller ones stay below a tenth of u; null where none does. */
    readonly enough: string | null;
  }[];
  readonly rows: readonly {
    readonly step: string;
    /** One a stepper; null where the step gives no result. */
    readonly errors: readonly ({ readonly text: string; readonly isGood: boolean } | null)[];
  }[];
  readonly figure: ChartFigure;
}

/** As often as is needed to know a scatter to a few per cent: relative u of 1/√(2(n − 1)), JCGM 100, E.4.3. */
const REHEARSALS = 60;

const NAMES: Readonly<Record<StepperTable['stepper'], string>> = {
  'forward-euler': 'forward Euler',
  'semi-implicit-euler': 'semi-implicit Euler',
  midpoint: 'midpoint',
  'fourth-order': 'fourth order',
};

/** How much each classroom stepper errs at each step, held against the scatter of a measurement. */
export const stepsTask: Task<StepsQuestion, readonly StepErrors[]> = {
  async run(room, { source }, report): Promise<Outcome<readonly StepErrors[]>> {
    const opened = await room.open(source);
    if (!opened.ok) return opened;
    const { lab, pipeline } = opened.value;
    const uncertainties = rehearsedUncertainties(opened.value, (done, total) =>
      report.progress(done, total, 'rehearsals'),
    );
    const tables = tabulateSteps(pipeline, { uncertainties });
    if (!tables.ok) return tables;
    return succeed(
      lab.results.flatMap((result) => {
        const own = tables.value.filter((table) => table.result === result.name);
        return own.length === 0 ? [] : [tell(result, own, uncertainties.get(result.name) ?? Number.NaN)];
      }),
      tables.warnings,
    );
  },
};

function rehearsedUncertainties(
  { pipeline }: OpenedLab,
  progress: (done: number, total: number) => void,
): ReadonlyMap<string, number> {
  const rehearsed = rehearse(pipeline, { repeats: REHEARSALS, drawsQuantities: true, progress });
  const found = new Map<string, number>();
  if (!rehearsed.ok) return found;
  for (const { output, spread } of rehearsed.value.outputs) {
    if (!found.has(output.result.name)) found.set(output.result.name, spread);
  }
  return found;
}

function tell(result: LabResult, tables: readonly StepperTable[], u: number): StepErrors {
  const inUnit = (si: number): number => fromSI(si, result.unit, 'interval');
  const isKnown = u > 0 && Number.isFinite(u);
  const digits = isKnown
    ? { decimals: Math.min(Math.max(2 - Math.floor(Math.log10(inUnit(u))), 0), 12) }
    : { significant: 2 };
  const print = (row: StepRow | undefined, table: StepperTable) => {
    if (row === undefined || !Number.isFinite(row.error)) return null;
    const text = formatNumber(inUnit(row.error), digits);
    const isGood = table.largestGoodStepS !== null && row.stepS <= table.largestGoodStepS;
    return { text: row.error > 0 && /[1-9]/.test(text) ? `+${text}` : text, isGood };
  };
  return {
    result: result.name,
    is: result.is,
    unit: formatUnit(result.unit),
    u: isKnown ? formatNumber(inUnit(u), { significant: 2 }) : null,
    steppers: tables.map(({ stepper, largestGoodStepS }) => ({
      name: NAMES[stepper],
      enough: largestGoodStepS === null ? null : sayStep(largestGoodStepS),
    })),
    rows: (tables[0]?.rows ?? []).map(({ stepS }, index) => ({
      step: sayStep(stepS),
      errors: tables.map((table) => print(table.rows[index], table)),
    })),
    figure: stepsFigure(tables, result, isKnown ? u : null, WORDING),
  };
}

function sayStep(stepS: number): string {
  const [value, unit] = stepS >= 1 ? [stepS, 's'] : stepS >= 1e-3 ? [stepS * 1e3, 'ms'] : [stepS * 1e6, 'µs'];
  return `${formatNumber(value)} ${unit}`;
}
