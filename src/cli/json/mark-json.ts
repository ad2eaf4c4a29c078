import {
  explainCause,
  type MarkedLine,
  type MarkedReport,
  type MarkingLanguage,
  nameCause,
  type RankedCause,
} from '../../classroom/index.ts';
import type { Setting } from '../../lab/index.ts';
import type { OpenLab } from '../open-lab.ts';
import { labToJson } from './lab-json.ts';
import { problemToJson } from './problem-json.ts';
import { finite, intervalIn, pointIn, settingsToJson } from './values.ts';

type Json = Readonly<Record<string, unknown>>;

/** Causes in a document: what lies behind is worth nobody's time. */
const SHOWN = 12;

/** The document of `mark --json`: `report` for single numbers, `list` for a class list. */
export function markToJson(
  open: OpenLab,
  asked: {
    readonly station: string;
    readonly set: readonly Setting[];
    readonly kits: readonly string[];
    readonly seed: number;
  },
  answer: {
    readonly report?: MarkedReport;
    readonly list?: readonly MarkedLine[];
    readonly written?: string | null;
  },
  language: MarkingLanguage,
): Json {
  return {
    lab: labToJson(open),
    station: asked.station,
    set: settingsToJson(asked.set),
    kits: asked.kits,
    seed: asked.seed,
    report: answer.report === undefined ? null : reportToJson(answer.report, language),
    list:
      answer.list?.map(({ report, marked }) => ({
        line: report.line,
        group: report.group,
        station: report.station,
        report: marked === null ? null : reportToJson(marked, language),
        problems: report.problems.map(problemToJson),
      })) ?? null,
    written: answer.written ?? null,
    problems: (answer.list ?? []).flatMap(({ report }) => report.problems.map(problemToJson)),
  };
}

function reportToJson(marked: MarkedReport, language: MarkingLanguage): Json {
  return {
    reported: marked.numbers.map(({ result, value, standardUncertainty }, index) => ({
      result: result.name,
      unit: result.unit.text,
      value: pointIn(result.unit, value),
      u: intervalIn(result.unit, standardUncertainty),
      low: pointIn(result.unit, marked.bands[index]?.low ?? Number.NaN),
      high: pointIn(result.unit, marked.bands[index]?.high ?? Number.NaN),
      within: marked.bands[index]?.isWithin ?? false,
      from_data: marked.fromData === null ? null : pointIn(result.unit, marked.fromData[index] ?? Number.NaN),
    })),
    causes: marked.causes.slice(0, SHOWN).map((ranked) => causeToJson(ranked, marked, language)),
  };
}

function causeToJson(ranked: RankedCause, marked: MarkedReport, language: MarkingLanguage): Json {
  const { cause, share, gives } = ranked;
  return {
    kind: cause.kind,
    name: nameCause(cause, language),
    slips:
      cause.kind === 'slip'
        ? [cause.slip.name]
        : cause.kind === 'pair'
          ? cause.slips.map(({ name }) => name)
          : [],
    effect: cause.kind === 'effect' ? cause.effect : null,
    times: cause.kind === 'effect' ? finite(cause.times) : null,
    share: finite(share),
    gives: marked.numbers.map(({ result }, index) =>
      cause.kind === 'unknown' ? null : pointIn(result.unit, gives[index] ?? Number.NaN),
    ),
    says: explainCause(ranked, marked, language),
  };
}
