import type { Lab, LabResult, TrialRun } from '../../lab/index.ts';
import { inItsUnit } from '../../lab/index.ts';
import { fromSI } from '../../quantity/index.ts';
import type { FitReport } from '../../reduction/index.ts';
import type { ReducedRun, ReducedTrials } from '../../run/index.ts';
import { printFiles } from './files-text.ts';
import { nameResult, printHeading, printTitle } from './heading.ts';
import { alignNumbers, printRough, type TableNumber } from './numbers.ts';
import type { Page } from './page.ts';
import { printResiduals } from './residual-strip.ts';
import { printParagraph, printTable, type TableColumn } from './table.ts';

/** What was measured, for people: each result run by run with its mean, then how well the fits stand. */
export function printReduction(
  page: Page,
  lab: Lab,
  reduced: ReducedTrials,
  runs: readonly TrialRun[],
): string[] {
  return [
    ...printTitle(page, lab),
    ...lab.results.flatMap((result) => [
      '',
      ...(result.scope === 'run' ? printRuns(page, result, reduced) : printAcross(page, result, reduced)),
    ]),
    ...printFits(page, reduced),
    ...printLeftOut(page, reduced),
    ...printFiles(page, runs),
  ];
}

interface Row {
  readonly label: string;
  readonly setting: string;
  readonly number: TableNumber;
  readonly remark: string;
  readonly isMean: boolean;
}

function printRuns(page: Page, result: LabResult, reduced: ReducedTrials): string[] {
  const rows = reduced.groups.flatMap((group, index): Row[] => {
    const own = reduced.runs.filter((run) => run.group === index);
    const singles = own.map((run) => rowOfRun(run, result));
    const output = reduced.outputs.find(
      (candidate) => candidate.output.result === result && candidate.output.group === index,
    );
    if (output === undefined || own.length < 2) return singles;
    const mean: Row = {
      label: `mean of ${output.n} runs`,
      setting: group.label === 'as given' ? '' : group.label,
      number: {
        value: fromSI(output.value, result.unit, 'point'),
        standardUncertainty: fromSI(output.scatter / Math.sqrt(output.n), result.unit, 'interval'),
      },
      remark: 'from their scatter',
      isMean: true,
    };
    return [...singles, mean];
  });
  const { values, uncertainties, exponent } = alignNumbers(
    page,
    rows.map((row) => row.number),
  );
  const cells = rows.map((row, index) => {
    const style = row.isMean ? { style: 'strong' as const } : {};
    return [
      { text: page.plain(`  ${row.label}`), ...style },
      page.plain(row.setting),
      { text: values[index] ?? '', ...style },
      { text: uncertainties[index] ?? '', ...style },
      { text: page.plain(row.remark), style: 'faint' as const },
    ];
  });
  return [
    printHeading(page, nameResult(page, result, exponent)),
    ...printTable(
      page,
      [
        { heading: '  run', widest: 30 },
        { heading: 'setting', widest: 24 },
        { heading: 'value' },
        { heading: 'u' },
        { heading: '' },
      ],
      cells,
    ),
  ];
}

function rowOfRun(run: ReducedRun, result: LabResult): Row {
  const { entry } = run.trial;
  const scalar = run.scalars.get(result.name);
  const number = { value: fromSI(scalar?.value ?? Number.NaN, result.unit, 'point') };
  const u = scalar?.standardUncertainty ?? Number.NaN;
  return {
    label: entry.name,
    setting: entry.when
      .map(({ quantity, value }) => `${quantity.name} = ${inItsUnit(quantity, value)}`)
      .join(', '),
    number: Number.isNaN(u) ? number : { ...number, standardUncertainty: fromSI(u, result.unit, 'interval') },
    remark: `${run.rows} rows`,
    isMean: false,
  };
}

function printAcross(page: Page, result: LabResult, reduced: ReducedTrials): string[] {
  const output = reduced.outputs.find((candidate) => candidate.output.result === result);
  if (output === undefined) return [];
  const { values, exponent } = alignNumbers(page, [{ value: fromSI(output.value, result.unit, 'point') }]);
  return [
    `${printHeading(page, nameResult(page, result, exponent))}: ${values[0] ?? ''}, across ${output.n} runs`,
  ];
}

/** One line a fit: what, how many readings, how well, and the residuals as a strip from first to last. */
function printFits(page: Page, reduced: ReducedTrials): string[] {
  const fits = [...reduced.runs.flatMap((run) => run.fits), ...reduced.acrossFits];
  if (fits.length === 0) return [];
  const statements = [...new Set(fits.map(statementOf))];
  const letterOf = (fit: FitReport) =>
    statements.length < 2 ? '' : String.fromCharCode(97 + statements.indexOf(statementOf(fit)));
  const columns: readonly TableColumn[] = [
    { heading: '  run', widest: 24 },
    { heading: 'fit', widest: 28 },
    { heading: 'n', align: 'right' },
    { heading: page.plain('ν'), align: 'right' },
    { heading: page.plain('χ²/ν'), align: 'right' },
    { heading: 'residuals, first to last' },
    { heading: '' },
  ];
  const rows = fits.map((fit) => [
    page.plain(`  ${fit.runName}`),
    page.plain(fit.words),
    String(fit.residuals.length),
    printRough(page, fit.degreesOfFreedom, Number.isInteger(fit.degreesOfFreedom) ? 0 : 1),
    fit.reducedChiSquare === null ? '' : printRough(page, fit.reducedChiSquare, 2),
    { text: printResiduals(page, fit.residuals), style: 'effect' as const },
    letterOf(fit),
  ]);
  const filled = columns.map((_, index) => rows.some((row) => row[index] !== ''));
  return [
    '',
    printHeading(page, 'Fits'),
    ...printTable(
      page,
      columns.filter((_, index) => filled[index]),
      rows.map((row) => row.filter((_, index) => filled[index])),
    ),
    ...statements.flatMap((statement, index) =>
      printParagraph(
        page,
        statement,
        statements.length < 2 ? '  ' : `  ${String.fromCharCode(97 + index)}  `,
        statements.length < 2 ? '  ' : '     ',
      ),
    ),
  ];
}

/** How a fit found its uncertainties; the degrees of freedom stand in the table. */
function statementOf({ statement }: FitReport): string {
  return statement.replace(/ \([\d.]+ degrees? of freedom\)/, '');
}

function printLeftOut(page: Page, { runs, setAside, failed }: ReducedTrials): string[] {
  const lines = [
    ...runs.flatMap(({ trial }) => sayOutside(trial)),
    ...setAside.map(({ trial, reason }) => `${trial.entry.name} is set aside: ${reason}.`),
    ...failed.map(({ trial }) => `${trial.entry.name} could not be reduced; the problem stands below.`),
  ];
  if (lines.length === 0) return [];
  return [
    '',
    printHeading(page, 'Left out'),
    ...lines.flatMap((line) => printParagraph(page, line, `  ${page.glyphs.bullet} `, '    ')),
  ];
}

/** Which readings of a run lie outside the part that counts; the file keeps them. */
function sayOutside({ entry, outside }: TrialRun): readonly string[] {
  return outside
    .filter(({ before, behind }) => before + behind > 0)
    .map(
      ({ instrument, before, behind, of }) =>
        `${entry.name}: ${before + behind} of ${of} readings of ${instrument} lie outside the part that counts (${before} before it, ${behind} behind).`,
    );
}
