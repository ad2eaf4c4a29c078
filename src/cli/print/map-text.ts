import type { Measure, MeasureMap, Variation } from '../../adapt/index.ts';
import type { Lab } from '../../lab/index.ts';
import { formatNumber, formatUnit, fromSI } from '../../quantity/index.ts';
import { printHeading, printTitle } from './heading.ts';
import { unitHeading } from './numbers.ts';
import type { Page } from './page.ts';
import { printParagraph, printTable } from './table.ts';

/** Measures over one or two varied quantities, for people. */
export function printMap(page: Page, lab: Lab, map: MeasureMap): string[] {
  const [first, second] = map.variations;
  if (first === undefined) return [];
  return [
    ...printTitle(page, lab),
    ...(second === undefined ? printLine(page, map, first) : printGrids(page, map, first, second)),
    ...printFailures(page, map),
  ];
}

/** A value of a varied quantity, in its own unit. */
export function sayPlace(page: Page, { quantity }: Variation, value: number, significant = 4): string {
  return formatNumber(fromSI(value, quantity.unit, 'point'), { significant, decimalMark: page.decimalMark });
}

/** A measure's value in the unit it is printed in; '·' where there is none. */
export function sayMeasure(page: Page, { unit }: Measure, value: number, significant = 3): string {
  if (Number.isNaN(value)) return page.plain('·');
  return page.plain(
    formatNumber(fromSI(value, unit, 'interval'), { significant, decimalMark: page.decimalMark }),
  );
}

/** 'gap(k2) / %'. */
function headMeasure(page: Page, { text, unit }: Measure): string {
  const words = unitHeading(page, formatUnit(unit), 0);
  return page.plain(words === '' || words === '1' ? text : `${text} / ${words}`);
}

function headQuantity(page: Page, { quantity }: Variation): string {
  const unit = formatUnit(quantity.unit);
  return page.plain(unit === '' ? quantity.name : `${quantity.name} / ${unit}`);
}

function printLine(page: Page, map: MeasureMap, first: Variation): string[] {
  const places = map.places[0] ?? [];
  return [
    '',
    ...printTable(
      page,
      [
        { heading: `  ${headQuantity(page, first)}`, align: 'right' },
        ...map.measures.map((measure) => ({ heading: headMeasure(page, measure), align: 'right' as const })),
      ],
      places.map((place, row) => [
        `  ${sayPlace(page, first, place)}`,
        ...map.measures.map((measure, column) => sayMeasure(page, measure, map.values[column][row])),
      ]),
    ),
  ];
}

function printGrids(page: Page, map: MeasureMap, first: Variation, second: Variation): string[] {
  const rows = map.places[0] ?? [];
  const columns = map.places[1] ?? [];
  return map.measures.flatMap((measure, index) => [
    '',
    printHeading(
      page,
      `${headMeasure(page, measure)}, ${headQuantity(page, first)} downwards, ${headQuantity(page, second)} to the right`,
    ),
    ...printTable(
      page,
      [
        { heading: '', align: 'right' },
        ...columns.map((place) => ({ heading: sayPlace(page, second, place), align: 'right' as const })),
      ],
      rows.map((place, row) => [
        `  ${sayPlace(page, first, place)}`,
        ...columns.map((_, column) =>
          sayMeasure(page, measure, map.values[index][row * columns.length + column]),
        ),
      ]),
    ),
  ]);
}

function printFailures(page: Page, { failed, firstFailure }: MeasureMap): string[] {
  if (failed === 0 || firstFailure === null) return [];
  const places = failed === 1 ? 'one place' : `${failed} places`;
  return [
    '',
    ...printParagraph(
      page,
      `At ${places} something could not be worked out, the first time because: ${firstFailure.message}`,
    ),
  ];
}
