import {
  type AdaptCondition,
  createGauge,
  type Optimum,
  optimise,
  readCondition,
  readMeasure,
  readVariation,
} from '../../../src/adapt/index.ts';
import type { Setting } from '../../../src/lab/index.ts';
import { fail, type Outcome, succeed } from '../../../src/problem/index.ts';
import { formatNumber, formatUnit, fromSI } from '../../../src/quantity/index.ts';
import type { LabSource } from '../source.ts';
import type { Task } from '../task.ts';

export interface BestChoiceQuestion {
  readonly source: LabSource;
  readonly sense: 'largest' | 'least';
  /** 'visible(k2, rolling resistance)'. */
  readonly measure: string;
  /** What may be chosen, as typed: ['L', '0.8 m..2 m'] or ['m_t', '250 g, 500 g']. */
  readonly vary: readonly (readonly [quantity: string, choices: string])[];
  /** Limits that the choice keeps: 'speed < 3 m/s'. */
  readonly within: readonly string[];
}

export interface BestChoiceAnswer {
  /** What was found, in a sentence. */
  readonly says: string;
  /** Each limit with what is to spare. */
  readonly limits: readonly string[];
  /** That a wider range may hold a better choice; '' where it does not. */
  readonly atEnd: string;
  readonly nextBest: readonly { readonly settings: string; readonly value: string }[];
  /** Whether every choice was gone through, or how fine the search was. */
  readonly how: string;
  readonly failed: number;
  readonly firstFailure: string | null;
}

/** The best choice under limits: every combination of listed values, a grid over ranges, then refined. */
export const bestChoiceTask: Task<BestChoiceQuestion, BestChoiceAnswer> = {
  async run(room, { source, sense, measure, vary, within }, report): Promise<Outcome<BestChoiceAnswer>> {
    const opened = room.openAlone(source);
    if (!opened.ok) return opened;
    const { lab, pipeline } = opened.value;
    const aim = readMeasure(lab, measure, 'What is looked for');
    const variations = vary.map(([quantity, choices]) => readVariation(lab, `${quantity}=${choices}`));
    const conditions = within.map((text) => readCondition(lab, text, 'The limit'));
    const problems = [aim, ...variations, ...conditions].flatMap((read) => (read.ok ? [] : read.problems));
    if (!aim.ok || problems.length > 0) return fail(...problems);
    const found = optimise(
      createGauge(pipeline),
      { measure: aim.value, sense },
      conditions.flatMap((read) => (read.ok ? [read.value] : [])),
      variations.flatMap((read) => (read.ok ? [read.value] : [])),
      [],
      { progress: (done, total) => report.progress(done, total, 'choices') },
    );
    return found.ok ? succeed(tell(found.value), found.warnings) : found;
  },
};

function tell(optimum: Optimum): BestChoiceAnswer {
  const { aim, conditions, settings, value, margins, atEnd, runnersUp, method } = optimum;
  return {
    says: `The ${aim.sense} ${aim.measure.text} is ${sayValue(optimum, value)}, with ${saySettings(settings)}.`,
    limits: conditions.map((condition, index) => sayLimit(condition, margins[index] ?? Number.NaN)),
    atEnd:
      atEnd.length === 0
        ? ''
        : `${atEnd.join(' and ')} ${atEnd.length === 1 ? 'stands' : 'stand'} at the end of the range: beyond it a better choice may lie.`,
    nextBest: runnersUp.map((next) => ({
      settings: saySettings(next.settings),
      value: sayValue(optimum, next.value),
    })),
    how: sayMethod(method),
    failed: method.failed,
    firstFailure: method.firstFailure?.message ?? null,
  };
}

function sayMethod({ combinations, grid, refined, evaluations, allowed }: Optimum['method']): string {
  const kept = `${allowed} of them kept the limits.`;
  if (grid === 1)
    return `The search is exhaustive: all ${combinations} choices were gone through, and ${allowed} of them kept the limits.`;
  const lists =
    combinations === 1
      ? ''
      : `Over the listed values it is exhaustive, with all ${combinations} combinations. `;
  return `${lists}Over the ranges a grid of ${grid} places was gone through${combinations === 1 ? '' : ' for each'}; ${kept} The best ${refined === 1 ? 'place was' : `${refined} places were`} then refined without derivatives, ${evaluations} choices in all. A peak narrower than the grid could be missed.`;
}

function sayValue({ aim }: Optimum, si: number): string {
  const { unit } = aim.measure;
  return `${formatNumber(fromSI(si, unit, 'interval'), { significant: 4 })} ${formatUnit(unit)}`.trim();
}

function sayLimit({ text, measure, limit }: AdaptCondition, margin: number): string {
  const { unit } = measure;
  if (Math.abs(margin) <= 1e-5 * Math.abs(limit)) return `${text}: met just so; it is what limits`;
  const spare = formatNumber(fromSI(margin, unit, 'interval'), { significant: 2 });
  return `${text}: met with ${`${spare} ${formatUnit(unit)}`.trim()} to spare`;
}

/** 'L = 1.234 m, m_t = 250 g', four digits: nobody cuts a chain finer. */
function saySettings(settings: readonly Setting[]): string {
  return settings
    .map(({ quantity: { name, unit }, value }) => {
      const number = Number(fromSI(value, unit, 'point').toPrecision(4));
      return `${name} = ${number} ${unit.text}`.trim();
    })
    .join(', ');
}
