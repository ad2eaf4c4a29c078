import type { Optimum } from '../../adapt/index.ts';
import type { Lab, Setting } from '../../lab/index.ts';
import { formatUnit, fromSI } from '../../quantity/index.ts';
import { printHeading, printTitle } from './heading.ts';
import { sayMeasure } from './map-text.ts';
import type { Page } from './page.ts';
import { printParagraph, printTable } from './table.ts';

/** The best choice that was found, for people. */
export function printOptimum(page: Page, lab: Lab, optimum: Optimum): string[] {
  const { aim, conditions, settings, value, margins, atEnd, runnersUp, method } = optimum;
  const say = (number: number) =>
    `${sayMeasure(page, aim.measure, number, 4)} ${formatUnit(aim.measure.unit)}`.trim();
  const { combinations, grid, refined, evaluations, failed, firstFailure } = method;
  const lists = combinations === 1 ? '' : `every one of ${combinations} combinations of listed values and `;
  const how =
    grid === 1
      ? `Went through ${combinations === 1 ? 'the one choice' : `all ${combinations} choices`}.`
      : `Went through ${lists}an even grid of ${grid} places, then refined ${refined === 1 ? 'the best' : `the best ${refined}`} without derivatives: ${evaluations} choices in all. A peak narrower than the grid could be missed.`;
  return [
    ...printTitle(page, lab),
    '',
    ...printParagraph(
      page,
      `The ${aim.sense} ${aim.measure.text} is ${say(value)}, with ${saySettings(settings)}.`,
    ),
    ...conditions.flatMap((condition, index) =>
      printParagraph(
        page,
        `${condition.text}: ${sayMargin(page, optimum, index, margins[index] ?? Number.NaN)}.`,
        `  ${page.glyphs.bullet} `,
        '    ',
      ),
    ),
    ...(atEnd.length === 0
      ? []
      : printParagraph(
          page,
          `${atEnd.join(' and ')} ${atEnd.length === 1 ? 'stands' : 'stand'} at the end of the range: beyond it a better choice may lie.`,
        )),
    ...(runnersUp.length === 0
      ? []
      : [
          '',
          printHeading(page, 'Next best'),
          ...printTable(
            page,
            [{}, { align: 'right' }],
            runnersUp.map((next) => [
              page.plain(`  ${saySettings(next.settings)}`),
              page.plain(say(next.value)),
            ]),
          ),
        ]),
    '',
    ...printParagraph(page, how),
    ...(failed === 0 || firstFailure === null
      ? []
      : printParagraph(
          page,
          `${failed} choices could not be run, the first because: ${firstFailure.message}`,
        )),
  ];
}

function sayMargin(page: Page, { conditions }: Optimum, index: number, margin: number): string {
  const condition = conditions[index];
  if (condition === undefined) return '';
  const unit = formatUnit(condition.measure.unit);
  const inside = `${sayMeasure(page, condition.measure, margin, 2)} ${unit}`.trim();
  return Math.abs(margin) <= 1e-5 * Math.abs(condition.limit)
    ? 'met just so; it is what limits'
    : `met with ${inside} to spare`;
}

/** 'L = 1.234 m, m_t = 250 g', six digits in the quantity's own unit: '8 degree' stays what was listed. */
function saySettings(settings: readonly Setting[]): string {
  return settings
    .map(({ quantity: { name, unit }, value }) => {
      const number = Number(fromSI(value, unit, 'point').toPrecision(6));
      return `${name} = ${number} ${unit.text}`.trim();
    })
    .join(', ');
}
