import type { Lab } from '../../lab/index.ts';
import { formatMeasured, formatUnit, fromSI } from '../../quantity/index.ts';
import type { MonteCarloStatement, QuantityStatement } from '../../run/index.ts';
import { unitOf } from '../json/quantities-json.ts';
import { printTitle } from './heading.ts';
import { printRough } from './numbers.ts';
import type { Page } from './page.ts';
import { printParagraph, printTable } from './table.ts';

/** Every quantity as JCGM 100 asks for it, for people. */
export function printQuantities(
  page: Page,
  lab: Lab,
  statements: readonly QuantityStatement[],
  drawn: MonteCarloStatement | null,
): string[] {
  const [first] = statements;
  const level = first === undefined ? '' : `${printRough(page, 100 * first.interval.level, 0)} %`;
  const rows = statements.map((statement, index) => rowOf(page, statement, drawn, index));
  return [
    ...printTitle(page, lab),
    '',
    ...printTable(
      page,
      [
        { heading: 'quantity', widest: 28 },
        { heading: 'value and standard uncertainty' },
        { heading: page.plain('ν'), align: 'right' },
        { heading: page.plain(`${level} interval`) },
        { heading: 'what contributes', widest: 22 },
      ],
      rows,
    ),
    '',
    ...printParagraph(page, page.plain(methodText(drawn))),
  ];
}

function rowOf(
  page: Page,
  statement: QuantityStatement,
  drawn: MonteCarloStatement | null,
  index: number,
): string[] {
  const { quantity, budget, degreesOfFreedom } = statement;
  const random = drawn?.quantities[index]?.drawn;
  const unit = unitOf(statement);
  const value = random?.mean ?? statement.value;
  const u = random?.standardUncertainty ?? statement.standardUncertainty;
  const { low, high } = random?.symmetric ?? statement.interval;
  const print = (si: number) =>
    formatMeasured({
      value: fromSI(si, unit, 'point'),
      standardUncertainty: fromSI(u, unit, 'interval') / 10,
      unit: '',
      notation: 'brackets',
      decimalMark: page.decimalMark,
    }).replace(/\(.*?\)/, '');
  return [
    page.plain(quantity.is === '' ? quantity.name : `${quantity.name}, ${quantity.is}`),
    page.plain(
      formatMeasured({
        value: fromSI(value, unit, 'point'),
        standardUncertainty: fromSI(u, unit, 'interval'),
        unit,
        notation: 'plus-minus',
        decimalMark: page.decimalMark,
      }),
    ),
    u === 0 ? '' : printRough(page, degreesOfFreedom, Number.isInteger(degreesOfFreedom) ? 0 : 1),
    u === 0 ? 'exact' : page.plain(`${print(low)} … ${print(high)} ${formatUnit(unit)}`.trim()),
    page.plain(quantity.kind === 'base' ? quantity.from : contributions(page, budget)),
  ];
}

/** '62 % L, 38 % m_c': what makes up the variance, down to one percent. */
function contributions(page: Page, budget: QuantityStatement['budget']): string {
  const shares = budget.filter(({ share }) => Math.abs(share) >= 0.005);
  return shares.map(({ from, share }) => `${printRough(page, 100 * share, 0)} % ${from}`).join(', ');
}

function methodText(drawn: MonteCarloStatement | null): string {
  if (drawn === null) {
    return 'Propagated linearly, correlations taken along (JCGM 100:2008); contributions are shares of the variance.';
  }
  const tolerance = drawn.stable
    ? 'two digits of every uncertainty are sure'
    : 'too few draws to be sure of two digits of every uncertainty';
  return `Propagated by ${drawn.draws} random draws (JCGM 101:2008): ${tolerance}. Contributions are of the linear propagation.`;
}
