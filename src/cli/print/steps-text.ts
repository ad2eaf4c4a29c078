import type { Lab, LabResult } from '../../lab/index.ts';
import { formatNumber, fromSI } from '../../quantity/index.ts';
import type { StepperTable, StepRow } from '../../run/index.ts';
import type { StepsScale } from '../steps-scale.ts';
import { nameResult, printHeading, printTitle } from './heading.ts';
import { alignNumbers } from './numbers.ts';
import type { Page } from './page.ts';
import { type Cell, printParagraph, printTable } from './table.ts';

/** The classroom steppers for people: one table a result, a row a step, a column a stepper, and which step is enough. */
export function printSteps(
  page: Page,
  lab: Lab,
  tables: readonly StepperTable[],
  scale: StepsScale,
): string[] {
  const results = lab.results.filter(({ name }) => tables.some((table) => table.result === name));
  return [
    ...printTitle(page, lab),
    ...results.flatMap((result) => [
      '',
      ...printResult(
        page,
        result,
        tables.filter((table) => table.result === result.name),
        scale,
      ),
    ]),
  ];
}

function printResult(
  page: Page,
  result: LabResult,
  tables: readonly StepperTable[],
  scale: StepsScale,
): string[] {
  const [first] = tables;
  if (first === undefined) return [];
  const u = scale.uncertainties.get(result.name) ?? Number.NaN;
  const uInUnit = fromSI(u, result.unit, 'interval');
  const reference = alignNumbers(page, [
    { value: fromSI(first.exact, result.unit, 'point'), standardUncertainty: uInUnit },
  ]);
  const rows = first.rows.map((row, index) => [
    { text: page.plain(`  ${sayStep(page, row.stepS)}`) },
    ...tables.map((table) =>
      errorCell(page, table.rows[index], table, { result, exponent: reference.exponent, u: uInUnit }),
    ),
  ]);
  const value = [reference.values[0], reference.uncertainties[0]].join(' ').trim();
  const words = { measured: 'u as measured', rehearsed: 'u as rehearsed', nothing: 'u not known' }[
    scale.from
  ];
  return [
    printHeading(page, nameResult(page, result, reference.exponent)),
    page.plain(`exact motion: ${value} (${words}); the table has the error of each stepper`),
    ...printTable(
      page,
      [
        { heading: '  step' },
        ...tables.map((table) => ({ heading: stepperNames[table.stepper], align: 'right' as const })),
      ],
      rows,
    ),
    ...printParagraph(page, sayEnough(page, tables, u)),
  ];
}

const stepperNames: Readonly<Record<StepperTable['stepper'], string>> = {
  'forward-euler': 'forward Euler',
  'semi-implicit-euler': 'semi-implicit Euler',
  midpoint: 'midpoint',
  'fourth-order': 'fourth order',
};

/** What the errors of one result are printed with: its unit, the power of ten of the heading, the uncertainty in that unit. */
interface ErrorScale {
  readonly result: LabResult;
  readonly exponent: number;
  readonly u: number;
}

/** Green where the error is below a tenth of the uncertainty in this and all smaller steps; digits to a hundredth of it. */
function errorCell(
  page: Page,
  row: StepRow | undefined,
  table: StepperTable,
  { result, exponent, u }: ErrorScale,
): Cell {
  if (row === undefined || !Number.isFinite(row.error)) return { text: 'no result', style: 'bad' };
  const factor = 10 ** -exponent;
  const error = fromSI(row.error, result.unit, 'interval') * factor;
  const digits =
    u > 0 && Number.isFinite(u)
      ? { decimals: Math.min(Math.max(2 - Math.floor(Math.log10(u * factor)), 0), 12) }
      : { significant: 2 };
  const text = formatNumber(error, { ...digits, decimalMark: page.decimalMark });
  const isZero = !/[1-9]/.test(text);
  const signed = page.plain(isZero ? text.replace(/^[-−]/, '') : error > 0 ? `+${text}` : text);
  const good = table.largestGoodStepS !== null && row.stepS <= table.largestGoodStepS;
  return good ? { text: signed, style: 'good' } : { text: signed };
}

function sayEnough(page: Page, tables: readonly StepperTable[], u: number): string {
  if (!(u > 0)) return 'No uncertainty is known that the errors could be held against.';
  const good = tables.flatMap(({ stepper, largestGoodStepS }) =>
    largestGoodStepS === null ? [] : [`${sayStep(page, largestGoodStepS)} for ${stepperNames[stepper]}`],
  );
  const none = tables.flatMap(({ stepper, largestGoodStepS }) =>
    largestGoodStepS === null ? [stepperNames[stepper]] : [],
  );
  const enough =
    good.length === 0 ? '' : `Largest step with an error below a tenth of u: ${good.join(', ')}.`;
  const rest = none.length === 0 ? '' : `No step tried is small enough for ${none.join(' and ')}.`;
  return [enough, rest].filter((sentence) => sentence !== '').join(' ');
}

/** '20 ms', '1.5 s'. */
function sayStep(page: Page, stepS: number): string {
  const [value, unit] = stepS >= 1 ? [stepS, 's'] : stepS >= 1e-3 ? [stepS * 1e3, 'ms'] : [stepS * 1e6, 'µs'];
  return page.plain(`${formatNumber(value, { decimalMark: page.decimalMark })} ${unit}`);
}
