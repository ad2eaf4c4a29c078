import { describeRecognition, inItsUnit, type Lab, type Quantity, type TrialRun } from '../../lab/index.ts';
import { formatEstimate } from '../../quantity/index.ts';
import type { DerivationCheck, LineVerdict } from '../../run/index.ts';
import type { CheckFindings } from '../examine-lab.ts';
import { printHeading, printTitle } from './heading.ts';
import type { Page } from './page.ts';
import { printParagraph, printTable } from './table.ts';

/** What `check` read and found, for people. */
export function printCheck(page: Page, lab: Lab, findings: CheckFindings, everything: boolean): string[] {
  return [
    ...printTitle(page, lab),
    '',
    ...printCounts(page, lab),
    ...(everything ? printQuantities(page, lab) : []),
    ...printDerivation(page, findings.derivation),
    ...printTrials(page, findings),
    '',
    printConclusion(page, findings),
  ];
}

function printCounts(page: Page, lab: Lab): string[] {
  const { base, derived } = lab.quantities;
  const uncertain = base.filter(({ estimate }) => estimate.standardUncertainty > 0).length;
  const parts = [
    `${several(base.length + derived.length, 'quantity', 'quantities')} (${derived.length} computed, ${uncertain} with an uncertainty)`,
    several(lab.effects.length, 'effect', 'effects'),
    several(lab.instruments.length, 'instrument', 'instruments'),
    `${several(lab.eachRun.steps.length, 'step', 'steps')} for each run`,
    ...(lab.acrossRuns.steps.length === 0
      ? []
      : [`${several(lab.acrossRuns.steps.length, 'step', 'steps')} across runs`]),
    several(lab.results.length, 'result', 'results'),
    several(lab.trials.length, 'trial', 'trials'),
  ];
  return printParagraph(page, `Read: ${parts.join(', ')}.`);
}

function printQuantities(page: Page, lab: Lab): string[] {
  const rows = lab.quantities.all.map((quantity) => [
    page.plain(`  ${quantity.name}`),
    page.plain(quantity.is),
    page.plain(sayValue(quantity, page)),
    page.plain(quantity.kind === 'derived' ? `= ${quantity.expression.text}` : quantity.from),
  ]);
  return [
    '',
    printHeading(page, 'Quantities'),
    ...printTable(page, [{}, { widest: 40 }, {}, { widest: 36 }], rows),
  ];
}

function sayValue(quantity: Quantity, page: Page): string {
  if (quantity.kind === 'derived') return 'computed';
  const { estimate, unit } = quantity;
  if (estimate.standardUncertainty === 0)
    return `${inItsUnit(quantity, estimate.value)}, no uncertainty stated`;
  return formatEstimate(estimate, unit, { notation: 'plus-minus', decimalMark: page.decimalMark });
}

function printDerivation(page: Page, derivation: DerivationCheck | null): string[] {
  if (derivation === null) return [];
  const lines = derivation.lines.flatMap((verdict, index) =>
    printLine(page, verdict, index, derivation.firstFalse),
  );
  const tried = `along the ideal motion, at the lab's values and ${several(derivation.settings - 1, 'other setting', 'other settings')}`;
  return ['', printHeading(page, `Derivation, checked ${tried}`), ...lines];
}

function printLine(page: Page, verdict: LineVerdict, index: number, firstFalse: number | null): string[] {
  const { line } = verdict;
  const good = verdict.verdict === 'true';
  const mark = page.paint(page.plain(good ? page.glyphs.tick : page.glyphs.cross), good ? 'good' : 'bad');
  const reason =
    line.because === ''
      ? []
      : printParagraph(page, line.because, '      ').map((text) => page.paint(text, 'faint'));
  const head = `  ${mark} ${page.plain(line.text)}`;
  if (verdict.verdict === 'true') return [head, ...reason];
  const sides = `left ${printSide(page, verdict.left)}, right ${printSide(page, verdict.right)} (SI units), ratio ${printSide(page, verdict.ratio)}`;
  const follow =
    firstFalse !== null && index > firstFalse ? ' It may be false because an earlier line is.' : '';
  return [head, ...reason, ...printParagraph(page, `${sides}.${follow}`, '      ')];
}

function printSide(page: Page, value: number): string {
  return page.plain(String(Number(value.toPrecision(5))).replace('.', page.decimalMark));
}

/** What the reader took each file for, each file once. */
function printTrials(page: Page, { runs, reduced }: CheckFindings): string[] {
  if (runs === null || runs.length === 0) return [];
  const files = new Map<string, TrialRun[]>();
  for (const run of runs) files.set(run.entry.file, [...(files.get(run.entry.file) ?? []), run]);
  const lines = [...files].flatMap(([file, own]) => {
    const [first] = own;
    const sentences = first === undefined ? [] : describeRecognition(first.table.recognised);
    return [
      `  ${page.plain(file)}`,
      ...sentences.flatMap((sentence) =>
        printParagraph(page, sentence, '      ').map((line) => page.paint(line, 'faint')),
      ),
      ...own.flatMap((run) =>
        printParagraph(page, sayRun(page, run, reduced), `    ${page.glyphs.bullet} `, '      '),
      ),
    ];
  });
  return ['', printHeading(page, 'Trials, and what their files were taken for'), ...lines];
}

function sayRun(page: Page, run: TrialRun, reduced: CheckFindings['reduced']): string {
  const { entry } = run;
  const settings = entry.when
    .map(({ quantity, value }) => `${quantity.name} = ${inItsUnit(quantity, value)}`)
    .join(', ');
  const head = settings === '' ? entry.name : `${entry.name} (${settings})`;
  if (entry.setAside !== null) return `${head}: set aside, ${entry.setAside}`;
  const done = reduced?.runs.find((candidate) => candidate.trial === run);
  if (done === undefined) return `${head}: could not be reduced`;
  const scalars = [...done.scalars]
    .map(([name, { value }]) => `${name} = ${printSide(page, value)}`)
    .join(', ');
  return `${head}: ${several(run.readings[0]?.columns[0]?.values.length ?? 0, 'reading', 'readings')}, ${done.rows} kept; ${scalars} in SI units`;
}

function printConclusion(page: Page, { problems }: CheckFindings): string {
  if (problems.length === 0) return page.paint(page.plain(`${page.glyphs.tick} No problem found.`), 'good');
  return page.paint(`${several(problems.length, 'problem', 'problems')} found.`, 'bad');
}

function several(count: number, one: string, many: string): string {
  return `${count} ${count === 1 ? one : many}`;
}
