import { list, paragraph } from '../document/index.ts';
import type { Desk } from './desk.ts';
import { type Section, section } from './section.ts';
import { sayStep } from './step-words.ts';

/** The steps from readings to results as a class does them, from the reduction of the lab file. */
export function draftAnalysis(desk: Desk): Section {
  const { eachRun, acrossRuns } = desk.gathered.extras;
  const { analysis } = desk.phrases;
  return section(
    'analysis',
    list(
      true,
      eachRun.map((step) => sayStep(desk, step)),
    ),
    ...(acrossRuns.length === 0
      ? []
      : [
          paragraph(analysis.acrossIntroduction),
          list(
            true,
            acrossRuns.map((step) => sayStep(desk, step)),
          ),
        ]),
    paragraph(analysis.uncertainty),
  );
}
