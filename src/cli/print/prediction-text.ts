import type { Lab } from '../../lab/index.ts';
import { formatUnit, fromSI } from '../../quantity/index.ts';
import type { Prediction } from '../../run/index.ts';
import { printHeading, printTitle } from './heading.ts';
import { alignNumbers, printRough, unitHeading } from './numbers.ts';
import type { Page } from './page.ts';
import { printParagraph, printTable } from './table.ts';

/** A prediction for people: results beside their theory, then where the model stops being true. */
export function printPrediction(page: Page, lab: Lab, prediction: Prediction, conditions: string): string[] {
  const heading = conditions === '' ? 'Predicted' : `Predicted: ${conditions}`;
  return [
    ...printTitle(page, lab),
    '',
    printHeading(page, heading),
    ...prediction.results.flatMap((result) => ['', ...printResult(page, result)]),
    '',
    ...printCourse(page, prediction),
  ];
}

function printResult(page: Page, result: Prediction['results'][number]): string[] {
  const inUnit = (value: Prediction['results'][number]['predicted']) => ({
    value: fromSI(value.value, result.unit, 'point'),
    standardUncertainty: fromSI(value.standardUncertainty, result.unit, 'interval'),
  });
  const rows = [
    ...(result.theory === null ? [] : [{ label: 'theory', number: inUnit(result.theory) }]),
    { label: 'simulated', number: inUnit(result.predicted) },
  ];
  const { values, uncertainties, exponent } = alignNumbers(
    page,
    rows.map((row) => row.number),
  );
  const unit = unitHeading(page, formatUnit(result.unit), exponent);
  const name = page.plain([result.name, result.is].filter((part) => part !== '').join(', '));
  const table = printTable(
    page,
    [{}, {}, {}, {}],
    rows.map(({ label }, index) => [`  ${label}`, values[index] ?? '', uncertainties[index] ?? '', unit]),
  );
  return [name, ...table, ...printGap(page, result)];
}

/** How far simulation and theory lie apart, in per cent of theory. */
function printGap(page: Page, { theory, predicted, unit }: Prediction['results'][number]): string[] {
  if (theory === null) return [];
  const expected = fromSI(theory.value, unit, 'point');
  const gap = (100 * (fromSI(predicted.value, unit, 'point') - expected)) / Math.abs(expected);
  if (!Number.isFinite(gap)) return [];
  if (Math.abs(gap) < 0.005) return [page.plain('  both agree to better than 0.01 %')];
  return [
    page.plain(
      `  the simulation lies ${printRough(page, Math.abs(gap), 2)} % ${gap > 0 ? 'above' : 'below'} theory`,
    ),
  ];
}

function printCourse(page: Page, { holds, ended }: Prediction): string[] {
  const end =
    ended === null
      ? []
      : printParagraph(page, `The run ends after ${printRough(page, ended.t, 3)} s: ${ended.by}.`);
  const conditions = holds.flatMap(({ name, failsAt }) => {
    if (failsAt === null)
      return printParagraph(page, `${page.glyphs.tick} ${name}: true to the end`, '  ', '    ');
    const states = [...failsAt.state]
      .map(([state, value]) => `${state} = ${printRough(page, value, 4)}`)
      .join(', ');
    return printParagraph(
      page,
      `${page.glyphs.cross} ${name}: fails at t = ${printRough(page, failsAt.t, 4)} s (${states}, in SI units)`,
      '  ',
      '    ',
    );
  });
  return [...end, ...(conditions.length === 0 ? [] : ['The model holds while', ...conditions])];
}
