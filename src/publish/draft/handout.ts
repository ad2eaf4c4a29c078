import type { Level } from '../document/index.ts';
import { draftAim } from './aim.ts';
import { draftAnalysis } from './analysis.ts';
import { draftBackground } from './background.ts';
import { draftComparison } from './comparison.ts';
import { draftData } from './data-table.ts';
import type { Desk } from './desk.ts';
import { draftExtension } from './extension.ts';
import { draftPredictFirst } from './predict-first.ts';
import { draftProcedure } from './procedure.ts';
import { draftQuestions } from './questions.ts';
import type { Section } from './section.ts';
import { draftSetUp } from './set-up.ts';

/** The student handout at one level, answers still in it: guide and key are made from the same sections. */
export function draftHandout(desk: Desk, level: Level): readonly Section[] {
  return [
    draftAim(desk),
    draftBackground(desk, level),
    draftPredictFirst(desk),
    draftSetUp(desk, 'students'),
    draftProcedure(desk),
    draftData(desk),
    draftAnalysis(desk),
    draftComparison(desk),
    draftQuestions(desk),
    draftExtension(desk),
  ];
}
