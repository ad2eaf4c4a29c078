import type { ClassRehearsal, PooledOutlook } from '../../classroom/index.ts';
import { inItsUnit, type Lab, type LabResult } from '../../lab/index.ts';
import { fromSI } from '../../quantity/index.ts';
import { nameResult, printHeading, printTitle } from './heading.ts';
import { alignNumbers, printRough } from './numbers.ts';
import type { Page } from './page.ts';
import { printParagraph, printTable } from './table.ts';

interface Line {
  readonly label: string;
  readonly mean: number;
  readonly spread: number;
  readonly low: number;
  readonly high: number;
  readonly theory: number;
}

/** What each station and the class are expected to find, for people. */
export function printStations(
  page: Page,
  lab: Lab,
  rehearsal: ClassRehearsal,
  needed: { readonly text: string; readonly groups: number | null; readonly most: number } | null,
): string[] {
  const { stations, pooled, rehearsals } = rehearsal;
  return [
    ...printTitle(page, lab),
    '',
    ...printParagraph(
      page,
      `${stations.length} stations, rehearsed ${rehearsals} times, each with an apparatus of its own.`,
    ),
    ...lab.results.flatMap((result, index) =>
      printLines(
        page,
        result,
        'station',
        stations.flatMap(({ station, results }): Line[] => {
          const own = results[index];
          // What no station finds alone, the class finds together.
          if (own !== undefined && Number.isNaN(own.mean)) return [];
          const values = station.set
            .map(({ quantity, value }) => `${quantity.name} = ${inItsUnit(quantity, value)}`)
            .join(', ');
          return own === undefined ? [] : [{ ...own, label: `${station.name}: ${values}` }];
        }),
      ),
    ),
    ...printPooled(page, pooled),
    ...(needed === null
      ? []
      : [
          '',
          ...printParagraph(
            page,
            needed.groups === null
              ? `${needed.text} is not reached with ${needed.most} groups.`
              : `${needed.text} is reached with ${needed.groups} groups.`,
          ),
        ]),
  ];
}

function printLines(page: Page, result: LabResult, heading: string, lines: readonly Line[]): string[] {
  const point = (value: number) => fromSI(value, result.unit, 'point');
  const interval = (value: number) => fromSI(value, result.unit, 'interval');
  const print = (values: readonly number[], exponent?: number) =>
    alignNumbers(
      page,
      values.map((value, index) => ({
        value: point(value),
        standardUncertainty: interval(lines[index]?.spread ?? Number.NaN),
      })),
      exponent,
    );
  const means = print(lines.map(({ mean }) => mean));
  const lows = print(
    lines.map(({ low }) => low),
    means.exponent,
  ).values;
  const highs = print(
    lines.map(({ high }) => high),
    means.exponent,
  ).values;
  const theories = print(
    lines.map(({ theory }) => theory),
    means.exponent,
  ).values;
  if (lines.length === 0) return [];
  const hasTheory = lines.some(({ theory }) => Number.isFinite(theory));
  return [
    '',
    printHeading(page, nameResult(page, result, means.exponent)),
    ...printTable(
      page,
      [
        { heading: `  ${heading}`, widest: 40 },
        { heading: 'expected' },
        { heading: '95 %' },
        ...(hasTheory ? [{ heading: 'theory' }] : []),
      ],
      lines.map(({ label }, index) => [
        page.plain(`  ${label}`),
        `${means.values[index] ?? ''} ${means.uncertainties[index] ?? ''}`,
        page.plain(`${lows[index] ?? ''} … ${highs[index] ?? ''}`),
        ...(hasTheory ? [theories[index] ?? ''] : []),
      ]),
    ),
  ];
}

function printPooled(page: Page, pooled: readonly PooledOutlook[]): string[] {
  const results = [...new Set(pooled.map(({ result }) => result))];
  return results.flatMap((result) => {
    const own = pooled.filter((outlook) => outlook.result === result && outlook.rehearsals > 0);
    const [last] = own.slice(-1);
    if (last === undefined) {
      return ['', ...printParagraph(page, `${result.name} cannot be pooled from so few stations.`)];
    }
    const gap = (100 * (last.mean - last.theory)) / Math.abs(last.theory);
    return [
      ...printLines(
        page,
        result,
        'the class together',
        own.map((outlook) => ({ ...outlook, label: `${outlook.groups} groups` })),
      ),
      ...(Number.isFinite(gap)
        ? printParagraph(
            page,
            [
              `With ${last.groups} groups the class finds ${printRough(page, Math.abs(gap), 1)} % ${gap < 0 ? 'less' : 'more'} than theory`,
              ...(Number.isFinite(last.coverage)
                ? [
                    `its own 95 % interval holds theory's value in ${printRough(page, 100 * last.coverage, 0)} % of classes`,
                  ]
                : []),
            ]
              .join('; ')
              .concat('.'),
            '  ',
          )
        : []),
    ];
  });
}
