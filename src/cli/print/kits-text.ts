import type { EquipmentOutlook, Outlook, ResultOutlook } from '../../adapt/index.ts';
import { judgedResult, sayReason } from '../../adapt/index.ts';
import type { Lab } from '../../lab/index.ts';
import { formatNumber, fromSI } from '../../quantity/index.ts';
import { nameResult, printHeading, printTitle } from './heading.ts';
import { JUDGEMENT_STYLE } from './judgement-text.ts';
import { alignNumbers, printRough } from './numbers.ts';
import type { Page } from './page.ts';
import { type Cell, printParagraph, printTable } from './table.ts';

/** What each set of equipment is called: 'as given', 'spoked wheel', 'spoked wheel + easy trolley'. */
function nameEquipment({ kits }: EquipmentOutlook): string {
  return kits.length === 0 ? 'as given' : kits.map(({ name }) => name).join(' + ');
}

/** What is expected with the lab's own equipment and with every kit, for people. */
export function printKits(page: Page, lab: Lab, outlooks: readonly EquipmentOutlook[]): string[] {
  const own = outlooks.find(({ outlook }) => outlook !== null)?.outlook ?? null;
  const rehearsals = own?.scatter?.rehearsals ?? 0;
  return [
    ...printTitle(page, lab),
    '',
    ...printParagraph(
      page,
      `Expected with each set of equipment: ${rehearsals} rehearsals of the plan each, the apparatus drawn within its uncertainties.`,
    ),
    ...lab.results.flatMap((_, index) => printResult(page, index, outlooks)),
    ...printShares(page, lab, outlooks),
    '',
    printHeading(page, 'How it will do'),
    ...outlooks.flatMap((one) => printJudgement(page, one)),
  ];
}

function printResult(page: Page, index: number, outlooks: readonly EquipmentOutlook[]): string[] {
  const found = outlooks.flatMap((one) => {
    const own = one.outlook?.results[index];
    return own === undefined || one.outlook === null ? [] : [{ one, own, outlook: one.outlook }];
  });
  const result = found[0]?.own.result;
  if (result === undefined) return [];
  const point = (value: number) => fromSI(value, result.unit, 'point');
  const means = alignNumbers(
    page,
    found.map(({ own }) => ({
      value: point(Number.isNaN(own.mean) ? own.full : own.mean),
      standardUncertainty: fromSI(own.spread, result.unit, 'interval'),
    })),
  );
  const decimals = (values: readonly number[]) =>
    alignNumbers(
      page,
      values.map((value, row) => ({
        value: point(value),
        standardUncertainty: fromSI(found[row]?.own.spread ?? Number.NaN, result.unit, 'interval'),
      })),
      means.exponent,
    ).values;
  const theories = decimals(found.map(({ own }) => own.theory));
  const lows = decimals(found.map(({ own }) => own.low));
  const highs = decimals(found.map(({ own }) => own.high));
  const hasTheory = found.some(({ own }) => Number.isFinite(own.theory));
  const rows = found.map(({ one, own, outlook }, row) => [
    page.plain(`  ${nameEquipment(one)}`),
    `${means.values[row] ?? ''} ${means.uncertainties[row] ?? ''}`,
    page.plain(`${lows[row] ?? ''} … ${highs[row] ?? ''}`),
    ...(hasTheory ? [theories[row] ?? '', printGap(page, own)] : []),
    ...(index === 0
      ? [outlook.course.readings === null ? '' : String(outlook.course.readings), sayCourse(page, outlook)]
      : []),
  ]);
  return [
    '',
    printHeading(page, nameResult(page, result, means.exponent)),
    ...printTable(
      page,
      [
        { heading: '  equipment', widest: 30 },
        { heading: 'expected' },
        { heading: '95 %' },
        ...(hasTheory ? [{ heading: 'theory' }, { heading: 'gap', align: 'right' as const }] : []),
        ...(index === 0
          ? [
              { heading: 'readings', align: 'right' as const },
              { heading: 'model true', widest: 26 },
            ]
          : []),
      ],
      rows,
    ),
  ];
}

/** Gap of the full model to theory in per cent; of a theory of nought there is none. */
function printGap(page: Page, { full, theory }: ResultOutlook): string {
  return theory === 0 ? '' : `${printRough(page, (100 * (full - theory)) / Math.abs(theory), 1, true)} %`;
}

function sayCourse(page: Page, { course }: Outlook): string {
  const { fails, ended } = course;
  if (ended === null) return '';
  const seconds = (t: number) => formatNumber(t, { significant: 3, decimalMark: page.decimalMark });
  return page.plain(fails === null ? `to the end, ${seconds(ended.t)} s` : `until ${seconds(fails.t)} s`);
}

/** Equipment that stands side by side in the table of effects: more would not fit the page. */
const ABREAST = 4;

/** The gap of the judged result by effect, in per cent of theory. */
function printShares(page: Page, lab: Lab, outlooks: readonly EquipmentOutlook[]): string[] {
  if (lab.effects.length === 0) return [];
  const runnable = outlooks.flatMap((one) => {
    const own = one.outlook === null ? undefined : judgedResult(one.outlook.results);
    return own === undefined ? [] : [{ one, own }];
  });
  const [first] = runnable;
  if (first === undefined) return [];
  const against = Number.isFinite(first.own.theory) ? 'theory' : 'the ideal model';
  const lines: string[] = [];
  for (let from = 0; from < runnable.length; from += ABREAST) {
    const part = runnable.slice(from, from + ABREAST);
    const percent = (own: ResultOutlook, value: number): string =>
      `${printRough(page, (100 * value) / Math.abs(Number.isFinite(own.theory) ? own.theory : own.ideal), 2, true)} %`;
    const rows = [
      ...lab.effects.map(({ name }, effect) => [
        page.plain(`  ${name}`),
        ...part.map(({ own }) => percent(own, own.shares[effect])),
      ]),
      ...(Number.isFinite(first.own.theory)
        ? [['  the reduction itself', ...part.map(({ own }) => percent(own, own.ideal - own.theory))]]
        : []),
    ];
    lines.push(
      '',
      printHeading(page, `The gap of ${first.own.result.name} by effect, in per cent of ${against}`),
      ...printTable(
        page,
        [
          { heading: '  effect', widest: 34 },
          ...part.map(({ one }) => ({
            heading: page.plain(shorten(nameEquipment(one))),
            align: 'right' as const,
          })),
        ],
        rows,
      ),
    );
  }
  return lines;
}

function shorten(name: string): string {
  return name.length <= 22 ? name : `${name.slice(0, 21)}…`;
}

function printJudgement(page: Page, one: EquipmentOutlook): string[] {
  const { verdict, reasons } = one.judgement;
  const result = one.outlook === null ? undefined : judgedResult(one.outlook.results)?.result;
  const cell: Cell = { text: verdict, style: JUDGEMENT_STYLE[verdict] };
  const is = one.kits.map((kit) => kit.is).filter((words) => words !== '');
  return [
    ...printTable(page, [{}, {}], [[page.plain(`  ${nameEquipment(one)}:`), cell]]),
    ...(is.length === 0 ? [] : printParagraph(page, is.join('; '), '    ')),
    ...reasons.flatMap((reason) =>
      printParagraph(page, `${capital(sayReason(reason, result))}.`, `    ${page.glyphs.bullet} `, '      '),
    ),
  ];
}

function capital(words: string): string {
  return words.charAt(0).toUpperCase() + words.slice(1);
}
