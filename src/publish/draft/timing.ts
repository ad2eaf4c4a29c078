import { type Inlines, list, paragraph, point } from '../document/index.ts';
import type { Desk } from './desk.ts';
import { type Section, section } from './section.ts';
import { SECOND } from './units.ts';

/** Minutes of the parts of a lesson that do not depend on the lab; common practice, no source. */
const MINUTES = { introduction: 10, setup: 15, analysis: 25, discussion: 15 } as const;

/** Minutes a run for putting back, recording and noting; common practice, no source. */
const HANDLING_MINUTES = 3;

/** How long each part takes, the runs reckoned from the plan and the duration of the motion. */
export function draftTiming({ gathered, lab, phrases }: Desk): Section {
  const { guide } = phrases;
  const { pipeline } = gathered;
  const simulated = lab.model.kind === 'motion' ? pipeline.simulate(pipeline.values(pipeline.nominal)) : null;
  const motion = simulated?.ok === true ? simulated.value.motion : null;
  const duration = motion === null ? 0 : motion.endS - motion.startS;
  const runs = Math.max(lab.plan.settings.length, 1) * lab.plan.repeats;
  const runMinutes = roundUpTo5(runs * (HANDLING_MINUTES + duration / 60));
  const parts: readonly (readonly [keyof typeof guide.timingParts, number])[] = [
    ['introduction', MINUTES.introduction],
    ['setup', MINUTES.setup],
    ['runs', runMinutes],
    ['analysis', MINUTES.analysis],
    ['discussion', MINUTES.discussion],
  ];
  const total = parts.reduce((sum, [, minutes]) => sum + minutes, 0);
  return section(
    'timing',
    list(
      false,
      parts.map(([part, minutes]): Inlines => guide.minutes(guide.timingParts[part], String(minutes))),
    ),
    paragraph(guide.timingTotal(total)),
    motion === null
      ? paragraph(guide.timingRuleStill)
      : paragraph(...guide.timingRule(point(duration, 0, SECOND, 2))),
  );
}

function roundUpTo5(minutes: number): number {
  return 5 * Math.ceil(minutes / 5);
}
