import { chiSquareTail } from '../../inference/index.ts';
import { formatEstimate, formatNumber } from '../../quantity/index.ts';
import type { WeighedModel } from '../../run/index.ts';
import { exp } from '../../wasm/index.ts';
import { printHeading } from './heading.ts';
import { printRough } from './numbers.ts';
import type { Page } from './page.ts';
import { type Cell, printParagraph, printTable } from './table.ts';

/** A chi-square this improbable is not chance: three standard uncertainties (common practice, no source). */
export const MISFIT = 0.0027;

/** Which of the lab's models the trials choose, for people; nothing where it names none. */
export function printModels(page: Page, models: readonly WeighedModel[], degreesOfFreedom: number): string[] {
  const [best, next] = models.toSorted((a, b) => b.weight - a.weight);
  if (best === undefined || next === undefined) return [];
  const rows = models.map((one): (string | Cell)[] => [
    page.plain(`  ${one.model.name}`),
    one === best ? { text: printWeight(page, one.weight), style: 'strong' } : printWeight(page, one.weight),
    printRough(page, one.chiSquare),
    page.plain(one.free.map((free) => printFree(page, free)).join('; ')),
  ]);
  const odds = formatNumber(exp(-next.logEvidence), { significant: 2, decimalMark: page.decimalMark });
  const says = `Before the trials each was as likely as the next. They make "${best.model.name}" ${odds} times as likely as "${next.model.name}", the next of them.`;
  const isPoor = chiSquareTail(best.chiSquare, degreesOfFreedom) < MISFIT;
  const warning = 'None of them fits these trials well: the weights only say which of them fails least.';
  return [
    '',
    printHeading(page, 'Which model the trials choose'),
    ...printTable(
      page,
      [
        { heading: '  model' },
        { heading: 'weight', align: 'right' },
        { heading: 'chi-square', align: 'right' },
        { heading: 'with the trials', widest: 52 },
      ],
      rows,
    ),
    '',
    ...printParagraph(page, page.plain(says)),
    ...(isPoor ? printParagraph(page, warning).map((line) => page.paint(line, 'bad')) : []),
  ];
}

/** Least weight of which decimals say enough. */
const LEAST = 5e-4;

function printWeight({ decimalMark, plain }: Page, weight: number): string {
  const format = weight < LEAST ? { significant: 1 } : { decimals: 3 };
  return plain(formatNumber(weight, { ...format, decimalMark }));
}

function printFree({ decimalMark }: Page, { quantity, posterior }: WeighedModel['free'][number]): string {
  return `${quantity.name} ${formatEstimate(posterior, quantity.unit, { notation: 'plus-minus', decimalMark })}`;
}
