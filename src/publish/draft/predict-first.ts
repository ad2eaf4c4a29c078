import {
  type Block,
  type Inlines,
  joinInlines,
  listInlines,
  type Part,
  paragraph,
  point,
  question,
  stated,
} from '../document/index.ts';
import { mainLedger } from '../gather/index.ts';
import type { Desk } from './desk.ts';
import { resultChange, uncertaintyOf } from './numbers.ts';
import { type Section, section } from './section.ts';
import { stringOf } from './step-words.ts';
import { findTrends, type Trend } from './trends.ts';

/** Questions that are answered before the first reading: a sketch, what grows with what, which effect is the largest. */
export function draftPredictFirst(desk: Desk): Section {
  return section(
    'predict',
    paragraph(desk.phrases.background.predictIntroduction),
    ...sketchQuestions(desk),
    ...findTrends(desk.gathered).map((trend) => trendQuestion(desk, trend)),
    ...largestEffectQuestions(desk),
  );
}

/** A sketch of what the analysis plots. */
function sketchQuestions(desk: Desk): readonly Block[] {
  const { phrases, names, gathered } = desk;
  const line = gathered.extras.eachRun.find(({ name }) => name === 'line' || name === 'fit');
  const y = stringOf(line?.settings.of);
  const x = stringOf(line?.settings.against);
  if (line === undefined || y === null || x === null) return [];
  const axes = [names.expression(y), names.expression(x)] as const;
  const slope = desk.lab.results.find(({ name }) => name === stringOf(line.settings.slope));
  const slopeIs =
    slope === undefined
      ? []
      : [' ', ...phrases.background.sketchSlope(joinInlines(names.symbol(slope.name)))];
  const answer =
    line.name === 'line' ? [paragraph(...phrases.background.sketchLine(...axes), ...slopeIs)] : [];
  return [question(phrases.background.sketch(...axes), 6, ...answer)];
}

function trendQuestion({ phrases, names }: Desk, { quantity, result, points, kind }: Trend): Block {
  const { background } = phrases;
  const symbol = names.symbol(result.name);
  const what: Inlines =
    quantity.is === '' ? [names.symbol(quantity.name)] : names.words(capital(quantity.is));
  const values = listInlines(
    points.map(
      (at): Part =>
        background.valueAt(
          point(at.value, at.standardUncertainty, result.unit),
          joinInlines(
            names.symbol(quantity.name),
            '\u00a0=\u00a0',
            stated(at.setting, uncertaintyOf(quantity), quantity.unit),
          ),
        ),
    ),
    ', ',
    phrases.documents.and,
  );
  const say = {
    larger: background.itGrows,
    smaller: background.itShrinks,
    same: background.itStays,
    varying: background.itVaries,
  }[kind];
  return question(
    background.whenGrows(names.symbol(quantity.name), what, symbol),
    2,
    paragraph(...say(symbol, values)),
  );
}

function largestEffectQuestions(desk: Desk): readonly Block[] {
  const { lab, phrases, names, gathered } = desk;
  const [result] = lab.results;
  if (result === undefined || lab.effects.length < 2) return [];
  const ledger = mainLedger(gathered, result.name);
  const [largest] = [...(ledger?.effects ?? [])].sort((a, b) => Math.abs(b.share) - Math.abs(a.share));
  if (largest === undefined) return [];
  const change = resultChange(result, {
    value: largest.share,
    standardUncertainty: largest.standardUncertainty,
  });
  const { background } = phrases;
  return [
    question(
      background.whichMost(names.symbol(result.name)),
      2,
      paragraph(...background.mostIs(names.words(largest.effect), change)),
    ),
  ];
}

function capital(text: string): string {
  return text.charAt(0).toUpperCase() + text.slice(1);
}
