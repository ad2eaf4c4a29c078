import type { TableFit } from '../../run/index.ts';
import { printCurve } from './curve-plot.ts';
import { printHeading } from './heading.ts';
import { alignNumbers, printRough } from './numbers.ts';
import type { Page } from './page.ts';
import { printResiduals } from './residual-strip.ts';
import { printParagraph, printTable } from './table.ts';

/** A fit for people: parameters, their correlations, how well it stands, and a plot where one is asked for. */
export function printTableFit(
  page: Page,
  file: string,
  of: string,
  fitted: TableFit,
  plot: boolean,
): string[] {
  const { fit } = fitted;
  return [
    printHeading(page, of),
    ...printParagraph(
      page,
      page.plain(`${fitted.readings} readings of ${file}${leftOutText(fitted)}, ${kindText(fitted)}.`),
    ),
    '',
    ...printParameters(page, fitted),
    ...(fitted.parameters.length < 2 ? [] : ['', ...printCorrelations(page, fitted)]),
    '',
    ...printTable(
      page,
      [{}, { align: 'right' }],
      [
        [
          page.plain(fit.reducedChiSquare === null ? 'sum of squares' : 'chi-square'),
          printSmall(page, fit.sumOfSquares),
        ],
        ['degrees of freedom', printRough(page, fit.degreesOfFreedom, 0)],
        ['residual standard deviation', printSmall(page, fit.residualSd)],
        ...(fit.reducedChiSquare === null
          ? []
          : [[page.plain('χ²/ν'), printRough(page, fit.reducedChiSquare, 3)]]),
        ['residuals, first to last', printResiduals(page, fit.residuals)],
      ],
    ),
    ...printParagraph(page, page.plain(uncertaintyText(fitted))),
    ...(plot ? ['', ...printCurve(page, fitted)] : []),
  ];
}

function printParameters(page: Page, { parameters }: TableFit): string[] {
  const rows = parameters.map(({ name, value, standardUncertainty }) => {
    const { values, uncertainties, exponent } = alignNumbers(page, [{ value, standardUncertainty }]);
    const power = exponent === 0 ? '' : page.plain(`×10^${exponent}`);
    const relative = Math.abs(standardUncertainty / value);
    return [
      page.plain(`  ${name}`),
      values[0] ?? '',
      uncertainties[0] ?? '',
      power,
      Number.isFinite(relative) ? `${printRough(page, 100 * relative, 2)} %` : '',
    ];
  });
  return printTable(
    page,
    [
      { heading: '  parameter' },
      { heading: 'value', align: 'right' },
      { heading: 'u' },
      { heading: '' },
      { heading: 'u/value', align: 'right' },
    ],
    rows,
  );
}

function printCorrelations(page: Page, { parameters, fit }: TableFit): string[] {
  const size = parameters.length;
  const { covariance } = fit;
  const rows = parameters.map(({ name }, row) => [
    page.plain(`  ${name}`),
    ...parameters.slice(0, row + 1).map((_, column) => {
      const scale = Math.sqrt(covariance[row * size + row] * covariance[column * size + column]);
      return row === column ? '1' : printRough(page, covariance[row * size + column] / scale, 4);
    }),
    ...parameters.slice(row + 1).map(() => ''),
  ]);
  return printTable(
    page,
    [
      { heading: '  correlations' },
      ...parameters.map(({ name }) => ({ heading: page.plain(name), align: 'right' as const })),
    ],
    rows,
  );
}

function printSmall(page: Page, value: number): string {
  if (!Number.isFinite(value)) return '?';
  const text =
    value !== 0 && (Math.abs(value) < 1e-3 || Math.abs(value) >= 1e6)
      ? value.toExponential(5)
      : String(Number(value.toPrecision(6)));
  return page.plain(page.decimalMark === ',' ? text.replace('.', ',') : text);
}

function kindText({ kind }: TableFit): string {
  switch (kind) {
    case 'linear':
      return 'linear least squares';
    case 'nonlinear':
      return 'nonlinear least squares';
    case 'errors in both':
      return 'with errors in both variables';
  }
}

function leftOutText({ leftOut }: TableFit): string {
  return leftOut === 0 ? '' : ` (${leftOut} rows with blank cells left out)`;
}

function uncertaintyText({ fit }: TableFit): string {
  return fit.uncertaintyFrom === 'scatter'
    ? 'u are standard uncertainties from the scatter of the residuals.'
    : 'u are standard uncertainties from the stated uncertainties alone, not scaled by χ²/ν.';
}
