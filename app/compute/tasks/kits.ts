import {
  combineKits,
  type EquipmentOutlook,
  type EquipmentVerdict,
  judgedResult,
  type ResultOutlook,
  sayReason,
  surveyKits,
} from '../../../src/adapt/index.ts';
import { type ChartFigure, kitsFigure } from '../../../src/figure/index.ts';
import type { LabResult } from '../../../src/lab/index.ts';
import { type Outcome, succeed } from '../../../src/problem/index.ts';
import { formatMeasured, formatNumber, formatUnit, fromSI } from '../../../src/quantity/index.ts';
import type { LabSource } from '../source.ts';
import type { Task } from '../task.ts';
import { WORDING } from '../wording.ts';

export interface KitsQuestion {
  readonly source: LabSource;
}

/** One result as it is expected with a set of equipment, printed. */
export interface ExpectedOfKit {
  readonly name: string;
  readonly expected: string;
  readonly theory: string | null;
  /** Full model against theory, in per cent with its sign; null without a theory. */
  readonly gap: string | null;
}

/** One set of equipment, judged. */
export interface JudgedKit {
  readonly name: string;
  readonly verdict: EquipmentVerdict;
  /** Sentences; none where nothing speaks against it. */
  readonly reasons: readonly string[];
  readonly results: readonly ExpectedOfKit[];
  readonly readings: number | null;
  /** Where the model stops being true; null where it holds to the end or could not be run. */
  readonly holdsUntil: string | null;
}

export interface KitsAnswer {
  readonly kits: readonly JudgedKit[];
  readonly figure: ChartFigure | null;
  readonly rehearsals: number;
}

/** What is expected with the lab as given, with each kit, and with kits that go together. */
export const kitsTask: Task<KitsQuestion, KitsAnswer> = {
  async run(room, { source }, report): Promise<Outcome<KitsAnswer>> {
    const opened = room.openAlone(source);
    if (!opened.ok) return opened;
    const { lab, pipeline } = opened.value;
    const surveyed = surveyKits(pipeline, combineKits(lab.kits), {
      progress: (done, total) => report.progress(done, total, 'sets of equipment'),
    });
    if (!surveyed.ok) return surveyed;
    const outlooks = surveyed.value;
    const judged = outlooks.flatMap(({ outlook }) =>
      outlook === null ? [] : (judgedResult(outlook.results) ?? []),
    )[0]?.result;
    return succeed(
      {
        kits: outlooks.map((one) => tellKit(one, judged)),
        figure: judged === undefined ? null : kitsFigure(outlooks, judged, nameKits, WORDING),
        rehearsals: outlooks[0]?.outlook?.scatter?.rehearsals ?? 0,
      },
      surveyed.warnings,
    );
  },
};

function nameKits({ kits }: EquipmentOutlook): string {
  return kits.map(({ name }) => name).join(' + ') || 'as given';
}

function tellKit(one: EquipmentOutlook, judged: LabResult | undefined): JudgedKit {
  const { outlook, judgement } = one;
  const fails = outlook?.course.fails ?? null;
  return {
    name: nameKits(one),
    verdict: judgement.verdict,
    reasons: judgement.reasons.map((reason) => sayReason(reason, judged)),
    results: outlook?.results.map(tellResult) ?? [],
    readings: outlook?.course.readings ?? null,
    holdsUntil:
      fails === null ? null : `${formatNumber(fails.t, { significant: 3 })} s, where “${fails.name}” ends`,
  };
}

function tellResult({ result, theory, full, mean, spread }: ResultOutlook): ExpectedOfKit {
  const unit = formatUnit(result.unit);
  const point = (si: number): number => fromSI(si, result.unit, 'point');
  const plain = (si: number): string => `${formatNumber(point(si), { significant: 4 })} ${unit}`.trim();
  const hasScatter = spread > 0 && Number.isFinite(mean);
  return {
    name: result.name,
    expected: hasScatter
      ? formatMeasured({
          value: point(mean),
          standardUncertainty: fromSI(spread, result.unit, 'interval'),
          unit: result.unit,
          notation: 'plus-minus',
          decimalMark: '.',
        })
      : plain(full),
    theory: Number.isFinite(theory) ? plain(theory) : null,
    gap:
      Number.isFinite(theory) && theory !== 0
        ? `${formatNumber((100 * (full - theory)) / Math.abs(theory), { significant: 2 })} %`
        : null,
  };
}
