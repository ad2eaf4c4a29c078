import { ledgerFigure } from '../../figure/index.ts';
import {
  type Block,
  type Inlines,
  joinInlines,
  list,
  paragraph,
  plainNumber,
  strong,
} from '../document/index.ts';
import { mainLedger } from '../gather/index.ts';
import { draftAnalysis } from './analysis.ts';
import { draftCautions } from './cautions.ts';
import type { Desk } from './desk.ts';
import { reportedValue, resultChange, resultValue, theoryValue } from './numbers.ts';
import { mostTelling } from './questions.ts';
import { sampleRun } from './sample.ts';
import { draftSchematic, sayInstrument } from './set-up.ts';
import { shareTime } from './share-time.ts';
import { ownUncertainty } from './slips.ts';
import { writtenLines } from './written-lines.ts';

/** A slide before its time is set. */
interface Draft {
  readonly title: string;
  readonly blocks: readonly Block[];
  readonly notes: readonly Inlines[];
  /** Its share of the time, against the other slides. */
  readonly weight: number;
}

/** Ten minutes, as the lab's talk is meant to take. */
export const TALK_SECONDS = 600;

/** The ten-minute talk: slides with a time budget each and what the speaker says. */
export function draftTalk(desk: Desk): readonly Block[] {
  const drafts = [
    questionSlide(desk),
    idealSlide(desk),
    setUpSlide(desk),
    cautionSlide(desk),
    predictSlide(desk),
    runSlide(desk),
    resultsSlide(desk),
    ...gapSlides(desk),
    ...classroomSlides(desk),
    endSlide(desk),
  ];
  const seconds = shareTime(
    drafts.map(({ weight }) => weight),
    TALK_SECONDS,
  );
  return drafts.map(
    ({ title, blocks, notes }, index): Block => ({
      kind: 'slide',
      title: joinInlines(title),
      blocks,
      seconds: seconds[index] ?? 0,
      notes: notes.map((line) => paragraph(...line)),
    }),
  );
}

function questionSlide({ lab, gathered, phrases, names }: Desk): Draft {
  const { talk } = phrases;
  return {
    title: talk.question,
    weight: 2,
    blocks: [
      paragraph(strong(...names.words(lab.question === '' ? lab.title : lab.question))),
      ...(lab.results.length === 0
        ? []
        : [paragraph(talk.weMeasure), list(false, lab.results.map(names.result))]),
    ],
    notes: [joinInlines(talk.sayQuestion), names.words(gathered.extras.about)],
  };
}

/** The last line of the derivation is what a talk has time for; the lines before are in the notes. */
function idealSlide({ lab, phrases, names }: Desk): Draft {
  const { talk, background } = phrases;
  const lines = writtenLines(lab);
  const shown = lines.length > 3 ? [lines[0], lines.at(-1)] : lines;
  const equations = shown.flatMap((line): Block[] =>
    line === undefined
      ? []
      : [
          {
            kind: 'equation',
            left: line.equation.left.tree,
            right: line.equation.right.tree,
            note: line.because === '' ? [] : background.because(names.words(line.because)),
          },
        ],
  );
  return {
    title: talk.idealPicture,
    weight: 3,
    blocks: equations.length === 0 ? [paragraph(background.ideal)] : equations,
    notes: [joinInlines(talk.sayIdeal), ...lab.derivation.map(({ because }) => names.words(because))],
  };
}

function setUpSlide(desk: Desk): Draft {
  return {
    title: desk.phrases.talk.setup,
    weight: 2,
    blocks: [draftSchematic(desk)],
    notes: [
      joinInlines(desk.phrases.talk.saySetup),
      ...desk.lab.instruments.map((instrument) => sayInstrument(desk, instrument)),
    ],
  };
}

/** Cautions have a slide of their own right behind the drawing, so that all of them can be read. */
function cautionSlide(desk: Desk): Draft {
  const { talk } = desk.phrases;
  return {
    title: talk.cautions,
    weight: 1,
    blocks: [draftCautions(desk, 'students')],
    notes: [joinInlines(talk.sayCautions)],
  };
}

function predictSlide(desk: Desk): Draft {
  const { lab, phrases, names } = desk;
  const { talk, questions } = phrases;
  const [result] = lab.results;
  const effects = lab.effects.map(({ name }) => names.words(name));
  return {
    title: talk.predict,
    weight: 2,
    blocks: [
      ...(result === undefined
        ? []
        : [paragraph(...phrases.background.whichMost(names.symbol(result.name)))]),
      ...(effects.length === 0 ? [] : [list(false, effects)]),
    ],
    notes: [
      joinInlines(talk.sayPredict),
      ...lab.effects.map(({ name, is }) => questions.explainEffect(names.words(name), names.words(is))),
    ],
  };
}

function runSlide(desk: Desk): Draft {
  const { gathered, phrases, names } = desk;
  const { talk } = phrases;
  const [own] = gathered.own.results;
  const sample = sampleRun(desk);
  if (sample === null) {
    const notes =
      own === undefined
        ? []
        : [
            gathered.reduced === null
              ? talk.sayRehearsed(names.symbol(own.result.name), resultValue(own.result, own.full))
              : joinInlines(talk.sayWhatHappens),
          ];
    return { title: talk.measurement, weight: 2, blocks: draftAnalysis(desk).blocks.slice(0, 1), notes };
  }
  const scalar = own === undefined ? undefined : sample.run.scalars.get(own.result.name);
  return {
    title: talk.measurement,
    weight: 3,
    blocks: [{ kind: 'figure', figure: sample.figure, caption: sample.caption }],
    notes:
      own === undefined || scalar === undefined
        ? []
        : [talk.sayMeasurement(names.symbol(own.result.name), resultValue(own.result, scalar))],
  };
}

function resultsSlide({ lab, gathered, phrases, names }: Desk): Draft {
  const { talk, guide } = phrases;
  const lines = lab.results.flatMap((result): Inlines[] => {
    const ledger = mainLedger(gathered, result.name);
    if (ledger === undefined) return [];
    return [
      joinInlines(
        ...names.result(result),
        ': ',
        guide.theory,
        ' ',
        ledger.theory === null ? '–' : theoryValue(result, ledger.theory, ledger.full),
        ', ',
        guide.full,
        ' ',
        resultValue(result, ledger.full),
        ...(ledger.measured === null
          ? []
          : [', ', guide.measured(guide.runs(ledger.measured.n)), ' ', resultValue(result, ledger.measured)]),
      ),
    ];
  });
  return {
    title: talk.results,
    weight: 3,
    blocks: [list(false, lines)],
    notes: [joinInlines(talk.sayResults)],
  };
}

function gapSlides({ lab, gathered, phrases, names, wording }: Desk): readonly Draft[] {
  const { talk, guide } = phrases;
  const [result] = lab.results;
  const ledger = result === undefined ? undefined : mainLedger(gathered, result.name);
  if (ledger === undefined) return [];
  const [largest] = [...ledger.effects].sort((a, b) => Math.abs(b.share) - Math.abs(a.share));
  const change =
    largest === undefined
      ? joinInlines(talk.sayGapNone)
      : talk.sayGap(
          names.words(largest.effect),
          resultChange(ledger.result, {
            value: largest.share,
            standardUncertainty: largest.standardUncertainty,
          }),
        );
  const { remainder } = ledger;
  return [
    {
      title: talk.gap,
      weight: 5,
      blocks: [
        {
          kind: 'figure',
          figure: ledgerFigure(ledger, wording),
          caption: guide.ledgerCaption(names.result(ledger.result)),
        },
      ],
      notes: [
        change,
        ...(remainder === null
          ? []
          : [
              guide.remainderIs(
                resultChange(ledger.result, remainder),
                plainNumber(Math.abs(remainder.z), 2),
              ),
              joinInlines(guide.verdicts[remainder.verdict]),
            ]),
      ],
    },
  ];
}

function classroomSlides({ gathered, phrases, names }: Desk): readonly Draft[] {
  const { talk } = phrases;
  const lines = gathered.slips.flatMap((slip): Inlines[] => {
    const found = mostTelling(slip);
    if (found === null) return [];
    const value = joinInlines(
      names.symbol(found.result.name),
      '\u00a0=\u00a0',
      reportedValue(found.result, found.wrong, ownUncertainty(gathered, found.result)),
    );
    return [talk.slipGives(names.words(slip.slip.is === '' ? slip.slip.name : slip.slip.is), value)];
  });
  if (lines.length === 0) return [];
  return [
    {
      title: talk.classroom,
      weight: 2,
      blocks: [list(false, lines)],
      notes: [joinInlines(talk.sayClassroom)],
    },
  ];
}

function endSlide({ lab, gathered, phrases, names }: Desk): Draft {
  const { talk, guide } = phrases;
  const lines = lab.results.flatMap((result): Inlines[] => {
    const ledger = mainLedger(gathered, result.name);
    if (ledger === undefined) return [];
    const verdict = ledger.remainder === null ? '' : ` ${guide.verdicts[ledger.remainder.verdict]}`;
    return [
      joinInlines(
        ...names.result(result),
        ': ',
        resultValue(result, ledger.measured ?? ledger.full),
        '.',
        verdict,
      ),
    ];
  });
  return {
    title: talk.conclusion,
    weight: 2,
    blocks: [...(lab.question === '' ? [] : [paragraph(...names.words(lab.question))]), list(false, lines)],
    notes: [joinInlines(talk.sayConclusion)],
  };
}
