import type { SlipResults } from '../../classroom/index.ts';
import type { LabResult } from '../../lab/index.ts';
import { coherentUnit } from '../../quantity/index.ts';
import type { GapLedger } from '../../reconcile/index.ts';
import {
  type Block,
  type Inlines,
  joinInlines,
  list,
  listInlines,
  paragraph,
  plainNumber,
  point,
  question,
  rounded,
  say,
} from '../document/index.ts';
import { mainLedger } from '../gather/index.ts';
import type { Desk } from './desk.ts';
import { reportedValue, resultChange, uncertaintyOf } from './numbers.ts';
import { type Section, section } from './section.ts';
import { ownUncertainty } from './slips.ts';
import { SECOND } from './units.ts';

/** Effects that change a result by less than this share of its uncertainty cannot be seen in it. */
const HARDLY = 0.1;

/** Questions that follow from the effects, the conditions and the slips, each with its computed answer. */
export function draftQuestions(desk: Desk): Section {
  const { lab, gathered } = desk;
  const ledgers = lab.results.flatMap((result) => mainLedger(gathered, result.name) ?? []);
  const [first] = ledgers;
  return section(
    'questions',
    ...ledgers.flatMap((ledger, index) => effectQuestion(desk, ledger, index === 0)),
    ...(first === undefined ? [] : [togetherQuestion(desk, first)]),
    ...slipQuestions(desk),
    ...validityQuestions(desk),
    ...(first === undefined ? [] : closingQuestion(desk, first)),
  );
}

function effectQuestion(desk: Desk, ledger: GapLedger, tellsReasons: boolean): readonly Block[] {
  const { phrases, names, lab } = desk;
  const { questions } = phrases;
  if (lab.effects.length === 0) return [];
  const { result } = ledger;
  const u = ledger.measured?.standardUncertainty ?? ledger.full.standardUncertainty;
  const listed = (chosen: GapLedger['effects']): Inlines =>
    listInlines(
      chosen.map((effect) =>
        questions.effectBy(
          names.words(effect.effect),
          resultChange(result, { value: effect.share, standardUncertainty: effect.standardUncertainty }),
        ),
      ),
      '; ',
    );
  const isSeen = ({ share }: GapLedger['effects'][number]) => Math.abs(share) >= HARDLY * u;
  const groups = [
    [questions.smaller, ledger.effects.filter((effect) => isSeen(effect) && effect.share < 0)],
    [questions.larger, ledger.effects.filter((effect) => isSeen(effect) && effect.share > 0)],
    [questions.hardly, ledger.effects.filter((effect) => !isSeen(effect))],
  ] as const;
  const sentences = groups.flatMap(([sayThem, chosen]) =>
    chosen.length === 0
      ? []
      : [sayThem(listed([...chosen].sort((a, b) => Math.abs(b.share) - Math.abs(a.share))))],
  );
  const reasons = lab.effects
    .filter(({ is }) => is !== '')
    .map(({ name, is }) => questions.explainEffect(names.words(name), names.words(is)));
  const effects = listInlines(
    lab.effects.map(({ name }) => names.words(name)),
    '; ',
  );
  return [
    question(
      questions.whichSmaller(names.symbol(result.name), effects),
      4,
      paragraph(...listInlines(sentences, ' ')),
      ...(!tellsReasons || reasons.length === 0 ? [] : [list(false, reasons)]),
    ),
  ];
}

function togetherQuestion({ phrases, names }: Desk, ledger: GapLedger): Block {
  const { questions } = phrases;
  const { result, effects, remainder } = ledger;
  const sum = effects.reduce((total, { share }) => total + share, 0);
  const together = resultChange(result, { value: sum, standardUncertainty: 0 });
  const answer =
    remainder === null
      ? questions.togetherOnly(together)
      : questions.togetherIs(together, resultChange(result, remainder));
  return question(questions.together(names.symbol(result.name)), 3, paragraph(...answer));
}

/** What a group did that reports a number which is wrong in a way that the lab knows. */
function slipQuestions(desk: Desk): readonly Block[] {
  return desk.gathered.slips.flatMap((slip): Block[] => {
    const found = mostTelling(slip);
    if (found === null) return [];
    const { questions } = desk.phrases;
    const { result, wrong, right, isTheory } = found;
    const symbol = desk.names.symbol(result.name);
    const ask = isTheory ? questions.slipTheory : questions.slip;
    return [
      question(
        ask(symbol, reportedValue(result, wrong, ownUncertainty(desk.gathered, result))),
        2,
        paragraph(
          ...questions.slipIs(
            desk.names.words(slip.slip.is === '' ? slip.slip.name : slip.slip.is),
            reportedValue(result, right, ownUncertainty(desk.gathered, result)),
          ),
        ),
      ),
    ];
  });
}

/** The result, or its theory, that a slip changes most; null where it changes none that can be seen. */
export function mostTelling({ results }: SlipResults): {
  readonly result: LabResult;
  readonly wrong: number;
  readonly right: number;
  readonly isTheory: boolean;
} | null {
  const changes = results.flatMap(({ result, right, slipped, rightTheory, slippedTheory }) => [
    { result, wrong: slipped, right, isTheory: false },
    ...(rightTheory === null || slippedTheory === null
      ? []
      : [{ result, wrong: slippedTheory, right: rightTheory, isTheory: true }]),
  ]);
  const sizeOf = ({ wrong, right }: { wrong: number; right: number }) =>
    Math.abs(wrong - right) / Math.abs(right);
  const seen = changes.filter((change) => sizeOf(change) > 0.005).sort((a, b) => sizeOf(b) - sizeOf(a));
  // A measured number is what a group reports; theory only where nothing measured changes.
  return seen.find(({ isTheory }) => !isTheory) ?? seen[0] ?? null;
}

function validityQuestions({ lab, phrases, names, gathered }: Desk): readonly Block[] {
  const { questions, documents } = phrases;
  if (lab.model.kind !== 'motion') return [];
  const { pipeline } = gathered;
  const simulated = pipeline.simulate(pipeline.values(pipeline.nominal));
  if (!simulated.ok || simulated.value.motion === null) return [];
  const { stateNames } = lab.model.model;
  const { model } = lab.model;
  const units = stateNames.map((name) => coherentUnit(model.dimensionOfState(name)));
  return simulated.value.motion.holds.map(({ name, failsAt }) => {
    const answer =
      failsAt === null
        ? joinInlines(questions.neverFails)
        : questions.failsAt(
            point(failsAt.t, 0, SECOND, 3),
            listInlines(
              stateNames.map(
                (state, index) =>
                  say`${names.symbol(state)} = ${point(failsAt.state[index] ?? 0, 0, units[index] ?? SECOND, 3)}`,
              ),
              documents.and,
            ),
          );
    return question(questions.whereTrue(names.words(name)), 3, paragraph(...answer));
  });
}

function closingQuestion({ phrases, names }: Desk, { result, remainder }: GapLedger): readonly Block[] {
  if (remainder === null) return [];
  const { questions } = phrases;
  const nearest = remainder.closing.slice(0, 3);
  const answer =
    nearest.length === 0
      ? joinInlines(questions.nothingCloses)
      : questions.closingIs(
          listInlines(
            nearest.map(({ quantity, needed, inUncertainties }) =>
              questions.closing(
                names.symbol(quantity.name),
                rounded(needed, uncertaintyOf(quantity), quantity.unit, 2),
                plainNumber(Math.abs(inUncertainties), 2),
              ),
            ),
            '; ',
          ),
        );
  return [question(questions.whichQuantity(names.symbol(result.name)), 3, paragraph(...answer))];
}
