import { type Inlines, joinInlines, list, listInlines, paragraph, point } from '../document/index.ts';
import { mainLedger } from '../gather/index.ts';
import type { Desk } from './desk.ts';
import { mainGroupOf } from './expected-results.ts';
import { roundedSize } from './numbers.ts';
import { scatterCues } from './scatter-cues.ts';
import { type Section, section } from './section.ts';
import { SECOND } from './units.ts';

/** More remarks of the reader of trial files than this are no help. */
const MOST_NOTES = 4;

/** What to look at when a class gets something else: from the effects, the scatter, and what happened in the sample runs. */
export function draftTroubleshooting(desk: Desk): Section {
  const { guide } = desk.phrases;
  const items = [
    ...effectItems(desk),
    ...(desk.gathered.slips.length > 0 ? [joinInlines(guide.farOff)] : []),
    ...scatterItems(desk),
    ...validityItems(desk),
    ...sampleItems(desk),
  ];
  return section('troubleshooting', paragraph(guide.troubleshootIntroduction), list(false, items));
}

/** The effects that pull a result down and up most: a stronger one shows first. */
function effectItems({ lab, gathered, phrases, names }: Desk): readonly Inlines[] {
  const { guide } = phrases;
  const [result] = lab.results;
  if (result === undefined) return [];
  const effects = [...(mainLedger(gathered, result.name)?.effects ?? [])].sort((a, b) => a.share - b.share);
  const lowest = effects[0];
  const highest = effects.at(-1);
  const symbol = names.symbol(result.name);
  return [
    ...(lowest !== undefined && lowest.share < 0
      ? [guide.tooSmall(symbol, names.words(lowest.effect), roundedSize(result, lowest))]
      : []),
    ...(highest !== undefined && highest.share > 0
      ? [guide.tooLarge(symbol, names.words(highest.effect), roundedSize(result, highest))]
      : []),
  ];
}

function scatterItems(desk: Desk): readonly Inlines[] {
  const { gathered, phrases, names } = desk;
  const main = mainGroupOf(gathered);
  const first = gathered.rehearsal.outputs.find(
    ({ output: { group }, singleRun }) => (group === null || group === main) && singleRun > 0,
  );
  if (first === undefined) return [];
  const { result } = first.output;
  const spread = point(first.singleRun, 0, { ...result.unit, offset: 0 }, 2);
  const { guide } = phrases;
  const look = listInlines(
    scatterCues(desk.lab).map((cue) => guide.scatterCues[cue]),
    guide.scatterThen,
  );
  return [guide.scatters(names.symbol(result.name), spread, look)];
}

function validityItems({ lab, gathered, phrases, names }: Desk): readonly Inlines[] {
  if (lab.model.kind !== 'motion') return [];
  const { pipeline } = gathered;
  const simulated = pipeline.simulate(pipeline.values(pipeline.nominal));
  if (!simulated.ok || simulated.value.motion === null) return [];
  return simulated.value.motion.holds.flatMap(({ name, failsAt }) =>
    failsAt === null ? [] : [phrases.guide.holdsEnd(names.words(name), point(failsAt.t, 0, SECOND, 3))],
  );
}

/** What happened in the sample runs: runs set aside, and what the reader of the files saw. */
function sampleItems({ gathered, phrases, names }: Desk): readonly Inlines[] {
  const { guide } = phrases;
  const { reduced } = gathered;
  if (reduced === null) return [];
  const aside = reduced.setAside.map(({ trial, reason }) =>
    guide.asidesWere(trial.entry.name, names.words(reason)),
  );
  // Notes that differ by a number only are one note.
  const alike = new Map<string, { readonly message: string; readonly runs: string[] }>();
  for (const { trial, notes } of reduced.runs) {
    for (const { message } of notes) {
      const key = message.replace(/\d+(?:\.\d+)?/gu, '#');
      const known = alike.get(key) ?? { message, runs: [] };
      if (!known.runs.includes(trial.entry.name)) known.runs.push(trial.entry.name);
      alike.set(key, known);
    }
  }
  const told = [...alike.values()].slice(0, MOST_NOTES).map(({ message, runs: [first = '', ...others] }) =>
    joinInlines(
      ...guide.readerSaid(first, message),
      ...(others.length === 0
        ? []
        : guide.likewise(
            listInlines(
              others.map((run) => phrases.guide.quoted(run)),
              ', ',
              phrases.documents.and,
            ),
          )),
    ),
  );
  return [...aside, ...told];
}
