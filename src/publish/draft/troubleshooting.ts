import { type Inlines, joinInlines, list, paragraph, point } from '../document/index.ts';
import { mainLedger } from '../gather/index.ts';
import type { Desk } from './desk.ts';
import { mainGroupOf } from './expected-results.ts';
import { movesSomething } from './moves-something.ts';
import { sizeOfChange } from './numbers.ts';
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
  const sizeOf = (share: number) => sizeOfChange(result, { value: share, standardUncertainty: 0 });
  return [
    ...(lowest !== undefined && lowest.share < 0
      ? [guide.tooSmall(symbol, names.words(lowest.effect), sizeOf(lowest.share))]
      : []),
    ...(highest !== undefined && highest.share > 0
      ? [guide.tooLarge(symbol, names.words(highest.effect), sizeOf(highest.share))]
      : []),
  ];
}

function scatterItems({ lab, gathered, phrases, names }: Desk): readonly Inlines[] {
  const main = mainGroupOf(gathered);
  const first = gathered.rehearsal.outputs.find(({ output: { group } }) => group === null || group === main);
  if (first === undefined || !(first.singleRun > 0)) return [];
  const { result } = first.output;
  const spread = point(first.singleRun, 0, { ...result.unit, offset: 0 }, 2);
  const { guide } = phrases;
  const say = movesSomething(lab.model) ? guide.scatters : guide.scattersUnmoved;
  return [say(names.symbol(result.name), spread)];
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
  const notes = new Set(
    reduced.runs.flatMap(({ trial, notes: found }) =>
      found.map(({ message }) => `${trial.entry.name}: ${message}`),
    ),
  );
  return [...aside, ...[...notes].slice(0, MOST_NOTES).map((note) => guide.readerSaid(note))];
}
