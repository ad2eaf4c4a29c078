import { chiSquareTail } from '../../inference/index.ts';
import type { Lab, TrialRun } from '../../lab/index.ts';
import { formatEstimate, fromSI } from '../../quantity/index.ts';
import type { Inference, WeighedModel } from '../../run/index.ts';
import { printFiles } from './files-text.ts';
import { nameResult, printHeading, printTitle } from './heading.ts';
import { MISFIT, printModels } from './models-text.ts';
import { alignNumbers, printRough } from './numbers.ts';
import type { Page } from './page.ts';
import { printParagraph, printTable } from './table.ts';

/** What the trials say of uncertain quantities, for people. */
export function printInference(
  page: Page,
  lab: Lab,
  inference: Inference,
  models: readonly WeighedModel[],
  runs: readonly TrialRun[],
): string[] {
  return [
    ...printTitle(page, lab),
    '',
    printHeading(page, 'What the trials ask for'),
    ...printQuantities(page, inference),
    '',
    ...sayFit(page, inference),
    ...sayDoubts(page, inference),
    ...printData(page, lab, inference),
    ...printModels(page, models, inference.degreesOfFreedom),
    ...printFiles(page, runs),
  ];
}

function printQuantities(page: Page, { free }: Inference): string[] {
  const print = (
    quantity: Inference['free'][number]['quantity'],
    value: Inference['free'][number]['prior'],
  ) =>
    page.plain(
      formatEstimate(value, quantity.unit, { notation: 'plus-minus', decimalMark: page.decimalMark }),
    );
  const rows = free.map(({ quantity, prior, posterior, shift }) => [
    page.plain(`  ${quantity.name}`),
    page.plain(quantity.is),
    print(quantity, prior),
    { text: print(quantity, posterior), style: 'strong' as const },
    `${printRough(page, shift, 1, true)} u`,
  ]);
  return printTable(
    page,
    [
      { heading: '  quantity' },
      { heading: '', widest: 28 },
      { heading: 'before' },
      { heading: 'with the trials' },
      { heading: 'shift', align: 'right' },
    ],
    rows,
  );
}

function sayFit(page: Page, { chiSquare, degreesOfFreedom, alongside }: Inference): string[] {
  const freedom = `${printRough(page, degreesOfFreedom, 0)} ${degreesOfFreedom === 1 ? 'degree' : 'degrees'} of freedom`;
  const along =
    alongside.length === 0
      ? ''
      : ` Fitted along within their uncertainty: ${alongside.map(({ name }) => name).join(', ')}.`;
  const fit = printParagraph(
    page,
    `The fit has a chi-square of ${printRough(page, chiSquare)} with ${freedom}.${along}`,
  );
  if (!(chiSquareTail(chiSquare, degreesOfFreedom) < MISFIT)) return fit;
  const warning =
    'No values within the stated uncertainties fit these trials well: something is missing in the model, or an uncertainty is stated too small. Do not trust the values above.';
  return [...fit, ...printParagraph(page, warning).map((line) => page.paint(line, 'bad'))];
}

function sayDoubts(page: Page, { indistinguishable, uninformed }: Inference): string[] {
  const pairs = indistinguishable.map(
    ({ between: [a, b], correlation }) =>
      `The trials cannot tell ${a.name} and ${b.name} apart (correlation ${printRough(page, correlation, 2)}): only a combination of the two is known better than before.`,
  );
  const silent =
    uninformed.length === 0
      ? []
      : [
          `The trials say next to nothing about ${uninformed.map(({ name }) => name).join(', ')}: what is known of it was known before.`,
        ];
  return [...pairs, ...silent].flatMap((sentence) =>
    printParagraph(page, sentence).map((line) => page.paint(line, 'doubtful')),
  );
}

/** What was fitted: measured beside the model before and after. */
function printData(page: Page, lab: Lab, { data }: Inference): string[] {
  const names = [...new Set(data.map((row) => row.scalar))];
  return names.flatMap((name) => {
    const own = data.filter((row) => row.scalar === name);
    const result = lab.results.find((candidate) => candidate.name === name);
    const point = (value: number) => (result === undefined ? value : fromSI(value, result.unit, 'point'));
    const interval = (value: number) =>
      result === undefined ? value : fromSI(value, result.unit, 'interval');
    const numbers = own.flatMap((row) =>
      [row.measured, row.before, row.after].map((value) => ({
        value: point(value),
        standardUncertainty: interval(row.standardUncertainty),
      })),
    );
    const { values, uncertainties, exponent } = alignNumbers(page, numbers);
    const rows = own.map((row, index) => [
      page.plain(`  ${row.group}`),
      `${values[3 * index] ?? ''} ${uncertainties[3 * index] ?? ''}`,
      values[3 * index + 1] ?? '',
      values[3 * index + 2] ?? '',
    ]);
    const title = result === undefined ? `${name}, in SI units` : nameResult(page, result, exponent);
    return [
      '',
      printHeading(page, title),
      ...printTable(
        page,
        [
          { heading: '  setting' },
          { heading: 'measured' },
          { heading: 'model before' },
          { heading: 'model after' },
        ],
        rows,
      ),
    ];
  });
}
