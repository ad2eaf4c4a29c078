import { formatUnit, fromSI } from '../../quantity/index.ts';
import type { RehearsedOutput } from '../../run/index.ts';
import type { ChartFigure, Mark, RuleMark, SeriesRole } from '../figure.ts';
import { figureName } from '../figure-name.ts';
import { histogram } from '../histogram.ts';
import { numberAxis } from '../number-axis.ts';
import { plainText, upright } from '../rich-text.ts';
import { sayNumber } from '../say-number.ts';
import { symbolText } from '../symbol-text.ts';
import { phrasesOf, type Wording } from '../wording.ts';

/** Values that a histogram of rehearsals is held against, SI; null where there is none. */
export interface RehearsalMarks {
  readonly theory: number | null;
  readonly ideal: number | null;
  readonly full: number | null;
  /** Label of the group of runs, where the lab has several. */
  readonly group: string | null;
}

/**
 * How one result came out over the rehearsals: a histogram, the central 95 % hatched beneath it, and where theory and
 * the models stand.
 */
export function rehearsalFigure(
  rehearsed: RehearsedOutput,
  marks: RehearsalMarks,
  wording: Wording,
): ChartFigure {
  const phrases = phrasesOf(wording.language);
  const { result } = rehearsed.output;
  const unit = formatUnit(result.unit);
  const inUnit = (value: number): number => fromSI(value, result.unit, 'point');
  const say = (value: number, significant?: number): string => sayNumber(value, unit, wording, significant);
  const { edges, counts } = histogram(rehearsed.values.map(inUnit));
  const quantity = symbolText(result.name);
  const lines: readonly (readonly [SeriesRole, string, number | null])[] = [
    ['theory', phrases.theory, marks.theory],
    ['ideal', phrases.ideal, marks.ideal],
    ['full', phrases.full, marks.full],
  ];
  const rules = lines.flatMap(([role, name, value]): RuleMark[] =>
    value === null || !Number.isFinite(value)
      ? []
      : [{ kind: 'rule', role, name: upright(name), along: 'x', at: inUnit(value), label: upright(name) }],
  );
  const drawn: readonly Mark[] = [
    { kind: 'bars', role: 'measured', name: upright(phrases.rehearsals), edges, heights: counts },
    {
      kind: 'region',
      look: 'tinted',
      role: 'quiet',
      name: upright(phrases.central95),
      from: inUnit(rehearsed.low),
      to: inUnit(rehearsed.high),
    },
    ...rules,
  ];
  const named = plainText(quantity);
  return {
    kind: 'chart',
    name: figureName('rehearsal', result.name, marks.group ?? ''),
    title: phrases.rehearsalTitle(marks.group === null ? named : `${named}, ${marks.group}`),
    description: [
      phrases.sayHistogram({
        count: rehearsed.values.length,
        result: named,
        mean: say(inUnit(rehearsed.mean), 4),
        spread: sayNumber(fromSI(rehearsed.spread, result.unit, 'interval'), unit, wording, 2),
        low: say(inUnit(rehearsed.low), 4),
        high: say(inUnit(rehearsed.high), 4),
      }),
      ...rules.map(({ name, at }) => phrases.sayLevel({ name: plainText(name), value: say(at, 4) })),
    ].join(' '),
    ...wording,
    statement: [],
    x: numberAxis(quantity, unit),
    panels: [{ y: numberAxis(upright(phrases.count), ''), share: 1, marks: drawn }],
  };
}
