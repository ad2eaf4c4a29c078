import { type Block, listInlines, paragraph, strong } from '../document/index.ts';
import { draftAnswers, notesIn } from './answers.ts';
import type { Desk } from './desk.ts';
import { draftExpected, draftKits, draftStations } from './expected-results.ts';
import { draftGap } from './gap.ts';
import { draftModels } from './models.ts';
import { resultValue, theoryValue } from './numbers.ts';
import { draftSample } from './sample.ts';
import { type Section, section } from './section.ts';
import { draftSetUp } from './set-up.ts';
import { draftSlips } from './slips.ts';
import { draftSteps } from './steps-table.ts';
import { draftTiming } from './timing.ts';
import { draftTroubleshooting } from './troubleshooting.ts';

/**
 * The teacher guide.
 *
 * @param handouts the handouts at all levels, with their answers and notes
 */
export function draftGuide(desk: Desk, handouts: readonly (readonly Section[])[]): readonly Section[] {
  return [
    draftOverview(desk, notesIn(handouts)),
    draftTiming(desk),
    draftSetUp(desk, 'staff'),
    draftExpected(desk),
    ...draftStations(desk),
    ...draftKits(desk),
    draftGap(desk),
    ...draftModels(desk),
    ...draftSample(desk),
    ...draftSlips(desk),
    ...draftSteps(desk),
    draftAnswers(desk, handouts),
    draftTroubleshooting(desk),
  ];
}

function draftOverview({ lab, gathered, phrases, names }: Desk, notes: readonly Block[]): Section {
  const { guide, documents } = phrases;
  const settings = Math.max(lab.plan.settings.length, 1);
  const levels = listInlines(
    gathered.extras.levels.map((level) => documents.levels[level]),
    '; ',
  );
  const results = gathered.own.results.map(({ result, full, theory }) =>
    paragraph(
      ...guide.expectsOf(names.result(result), resultValue(result, full)),
      ...(theory === null ? [] : guide.theoryWould(theoryValue(result, theory, full))),
    ),
  );
  return section(
    'overview',
    ...(lab.question === '' ? [] : [paragraph(strong(...names.words(lab.question)))]),
    ...(gathered.extras.about === '' ? [] : [paragraph(...names.words(gathered.extras.about))]),
    paragraph(guide.overviewRuns(settings * lab.plan.repeats, settings), ' ', ...guide.handouts(levels)),
    ...results,
    paragraph(guide.madeUp),
    ...notes,
  );
}
