import type { Lab, LabResult } from '../../lab/index.ts';
import { fromSI } from '../../quantity/index.ts';
import type { Rehearsal } from '../../run/index.ts';
import { nameResult, printHeading, printTitle } from './heading.ts';
import { alignNumbers } from './numbers.ts';
import type { Page } from './page.ts';
import { printParagraph, printTable } from './table.ts';

/** What the measurement will look like, for people. */
export function printRehearsal(
  page: Page,
  lab: Lab,
  rehearsal: Rehearsal,
  folder: { readonly shown: string; readonly files: readonly string[] } | null,
): string[] {
  const runs = lab.plan.repeats === 1 ? 'one run' : `${lab.plan.repeats} runs`;
  const times = rehearsal.repeats === 1 ? 'once' : `${rehearsal.repeats} times`;
  return [
    ...printTitle(page, lab),
    '',
    ...printParagraph(
      page,
      `Rehearsed ${times}, each time ${runs} a setting, with the resolution and noise of the instruments.`,
    ),
    ...lab.results.flatMap((result) => printOutputs(page, lab, result, rehearsal)),
    ...(folder === null
      ? []
      : [
          '',
          ...printParagraph(
            page,
            `Wrote ${folder.files.length} files to ${folder.shown}: the readings of the first rehearsal, one file a run, and a readme.`,
          ),
        ]),
  ];
}

function printOutputs(page: Page, lab: Lab, result: LabResult, rehearsal: Rehearsal): string[] {
  const own = rehearsal.outputs.filter(({ output }) => output.result === result);
  if (own.length === 0) return [];
  const point = (value: number) => fromSI(value, result.unit, 'point');
  const interval = (value: number) => fromSI(value, result.unit, 'interval');
  const means = alignNumbers(
    page,
    own.map(({ mean, spread }) => ({
      value: point(mean),
      ...(Number.isNaN(spread) ? {} : { standardUncertainty: interval(spread) }),
    })),
  );
  // Limits stand with the digits of the spread, single runs with two of their own.
  const print = (values: readonly number[], uncertainties: readonly number[]) =>
    alignNumbers(
      page,
      values.map((value, index) => ({ value, standardUncertainty: uncertainties[index] ?? Number.NaN })),
      means.exponent,
    ).values;
  const spreads = own.map(({ spread }) => interval(spread));
  const scatters = own.map(({ singleRun }) => interval(singleRun));
  const statements = own.map(({ reported }) => interval(reported));
  const lows = print(
    own.map(({ low }) => point(low)),
    spreads,
  );
  const highs = print(
    own.map(({ high }) => point(high)),
    spreads,
  );
  const singles = print(scatters, scatters);
  const stated = print(statements, statements);
  const labels = own.map(({ output }) =>
    output.group === null ? 'across all runs' : (rehearsal.groups[output.group]?.label ?? ''),
  );
  const rows = own.map(({ singleRun, reported }, index) => [
    page.plain(`  ${labels[index] ?? ''}`),
    `${means.values[index] ?? ''} ${means.uncertainties[index] ?? ''}`,
    rehearsal.repeats < 2 ? '' : page.plain(`${lows[index] ?? ''} … ${highs[index] ?? ''}`),
    Number.isNaN(singleRun) ? '' : (singles[index] ?? ''),
    Number.isNaN(reported) ? '' : (stated[index] ?? ''),
  ]);
  const mean = lab.plan.repeats === 1 ? 'one run' : `mean of ${lab.plan.repeats} runs`;
  const columns = [
    { heading: '  setting', widest: 28 },
    { heading: result.scope === 'across' ? 'result' : mean },
    { heading: '95 % of rehearsals' },
    { heading: 'scatter of a run' },
    { heading: 'u a run states' },
  ];
  const filled = columns.map((_, index) => rows.some((row) => row[index] !== ''));
  return [
    '',
    printHeading(page, nameResult(page, result, means.exponent)),
    ...printTable(
      page,
      columns.filter((_, index) => filled[index]),
      rows.map((row) => row.filter((_, index) => filled[index])),
    ),
  ];
}
