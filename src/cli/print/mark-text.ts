import {
  explainCause,
  type MarkedLine,
  type MarkedReport,
  type MarkingLanguage,
  nameCause,
} from '../../classroom/index.ts';
import type { Lab } from '../../lab/index.ts';
import { formatNumber, formatUnit, fromSI } from '../../quantity/index.ts';
import { printTitle } from './heading.ts';
import { printRough } from './numbers.ts';
import type { Page, Style } from './page.ts';
import { printParagraph, printTable } from './table.ts';

/** Causes that are shown: what lies behind is worth nobody's time. */
const SHOWN = 6;

const STYLES: Readonly<Record<string, Style>> = {
  correct: 'good',
  slip: 'doubtful',
  pair: 'doubtful',
  effect: 'effect',
  unknown: 'bad',
};

/** What would produce the reported numbers, for people. */
export function printMark(
  page: Page,
  lab: Lab,
  station: string,
  marked: MarkedReport,
  language: MarkingLanguage,
): string[] {
  const [first] = marked.causes;
  if (first === undefined) return printTitle(page, lab);
  const reported = marked.numbers.map(
    ({ result, value }) => `${result.name} = ${say(page, value, result.unit)}`,
  );
  const where = station === '' ? '' : ` at station ${station}`;
  return [
    ...printTitle(page, lab),
    '',
    ...printParagraph(page, `Reported${where}: ${reported.join(', ')}.`),
    ...(marked.fromData === null
      ? []
      : printParagraph(
          page,
          `The readings, reduced as they should be, give ${marked.numbers.map(({ result }, index) => `${result.name} = ${say(page, marked.fromData?.[index] ?? Number.NaN, result.unit)}`).join(', ')}.`,
        )),
    '',
    ...printParagraph(page, explainCause(first, marked, language)),
    '',
    ...printTable(
      page,
      [
        { heading: '  what would give this', widest: 46 },
        { heading: 'share', align: 'right' },
        ...marked.numbers.map(({ result }) => ({
          heading: page.plain(`gives ${result.name}`),
          align: 'right' as const,
        })),
      ],
      marked.causes.slice(0, SHOWN).map(({ cause, share, gives }, index) => [
        {
          text: page.plain(`  ${nameCause(cause, language)}`),
          ...(index === 0 ? { style: STYLES[cause.kind] ?? 'faint' } : {}),
        },
        `${printRough(page, 100 * share, share < 0.1 ? 1 : 0)} %`,
        ...gives.map((value, at) =>
          cause.kind === 'unknown' ? page.plain('·') : say(page, value, marked.numbers[at]?.result.unit),
        ),
      ]),
    ),
    '',
    ...printParagraph(
      page,
      'The share says how much of all that is considered speaks for a cause: prior times likelihood (docs/mark.md). It is a help for a conversation, not a grade.',
    ),
  ];
}

function say(
  page: Page,
  value: number,
  unit: MarkedReport['numbers'][number]['result']['unit'] | undefined,
): string {
  if (unit === undefined || !Number.isFinite(value)) return '?';
  const words = formatUnit(unit);
  const number = formatNumber(fromSI(value, unit, 'point'), {
    significant: 4,
    decimalMark: page.decimalMark,
  });
  return page.plain(words === '' || words === '1' ? number : `${number} ${words}`);
}

/** A marked class list, for people: one line a group. */
export function printMarkedList(
  page: Page,
  lab: Lab,
  lines: readonly MarkedLine[],
  shown: string | null,
  language: MarkingLanguage,
): string[] {
  const rows = lines.map(({ report, marked }) => {
    const [first] = marked?.causes ?? [];
    return [
      page.plain(`  ${report.group === '' ? `line ${report.line}` : report.group}`),
      page.plain(report.station),
      first === undefined
        ? { text: 'not read', style: 'bad' as const }
        : {
            text: page.plain(nameCause(first.cause, language)),
            style: STYLES[first.cause.kind] ?? ('faint' as const),
          },
      first === undefined ? '' : `${printRough(page, 100 * first.share, 0)} %`,
    ];
  });
  return [
    ...printTitle(page, lab),
    '',
    ...printTable(
      page,
      [
        { heading: '  group', widest: 30 },
        { heading: 'station' },
        { heading: 'what it looks like', widest: 50 },
        { heading: 'share', align: 'right' },
      ],
      rows,
    ),
    ...(shown === null ? [] : ['', ...printParagraph(page, `Wrote marked.csv and marked.html to ${shown}.`)]),
  ];
}
