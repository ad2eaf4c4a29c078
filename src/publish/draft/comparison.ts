import type { LabResult } from '../../lab/index.ts';
import { type Block, joinInlines, paragraph, question } from '../document/index.ts';
import { mainLedger } from '../gather/index.ts';
import type { Desk } from './desk.ts';
import { percentage, resultChange, resultValue } from './numbers.ts';
import { type Section, section } from './section.ts';
import { emptyCell, headWithUnit, tableOf } from './table-parts.ts';

/** Theory beside measurement, to be filled in, and how far they are apart. */
export function draftComparison(desk: Desk): Section {
  const { phrases, lab } = desk;
  const { analysis } = phrases;
  const compared = lab.results.filter(({ theory }) => theory !== null);
  if (compared.length === 0) return section('comparison', paragraph(analysis.noTheory));
  return section(
    'comparison',
    paragraph(analysis.compareIntroduction),
    ...compared.map((result) => comparisonTable(desk, result)),
    paragraph(analysis.differenceRule),
    ...compared.map((result) => gapQuestion(desk, result)),
  );
}

function comparisonTable(desk: Desk, result: LabResult): Block {
  const { phrases, lab, names } = desk;
  const { documents, analysis } = phrases;
  const settings = result.scope === 'across' || lab.plan.settings.length === 0 ? [[]] : lab.plan.settings;
  return tableOf(
    joinInlines(analysis.compareCaption, ': ', ...names.result(result)),
    [
      documents.setting,
      headWithUnit(joinInlines(analysis.theory), result.unit),
      headWithUnit(joinInlines(analysis.measured), result.unit),
      headWithUnit(joinInlines(analysis.difference), result.unit),
    ],
    ['left', 'number', 'number', 'number'],
    settings.map((when) => [names.settings(when), emptyCell, emptyCell, emptyCell]),
  );
}

/** How far theory is off by all that the lab knows of; the answer is the full model against theory. */
function gapQuestion(desk: Desk, result: LabResult): Block {
  const { phrases, names, gathered } = desk;
  const { analysis } = phrases;
  const symbol = names.symbol(result.name);
  const ledger = mainLedger(gathered, result.name);
  if (ledger?.theory?.value === 0) {
    const answer = analysis.gapFromNought(resultValue(result, ledger.full));
    return question(analysis.howLargeFromNought(symbol), 2, paragraph(...answer));
  }
  if (ledger === undefined || ledger.theory === null) return question(analysis.howLarge(symbol), 2);
  const change = { value: ledger.full.value - ledger.theory.value, standardUncertainty: 0 };
  const answer = analysis.gapIs(
    resultChange(result, change),
    percentage(change.value / Math.abs(ledger.theory.value)),
    resultValue(result, ledger.full),
  );
  return question(analysis.howLarge(symbol), 2, paragraph(...answer));
}
