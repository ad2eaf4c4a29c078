import { writeFile } from 'node:fs/promises';
import { resolve } from 'node:path';
import * as z from 'zod';
import {
  type AdaptCondition,
  type Aim,
  combineKits,
  createGauge,
  type EquipmentOutlook,
  judgedResult,
  type MeasureMap,
  mapMeasures,
  optimise,
  placesOf,
  readCondition,
  readMeasure,
  readVariation,
  solveThreshold,
  surveyKits,
  type ThresholdAnswer,
  type Variation,
} from '../../adapt/index.ts';
import { type ChartFigure, figureToSvg, kitsFigure, measureMapFigure } from '../../figure/index.ts';
import { refusal } from '../../files/index.ts';
import { createPipeline, type Kit, type Lab, type Pipeline, type Setting } from '../../lab/index.ts';
import { fail, type Outcome, problem, succeed } from '../../problem/index.ts';
import { labelSettings } from '../../run/index.ts';
import type { Desk } from '../desk.ts';
import { type AdaptAsked, adaptToJson } from '../json/adapt-json.ts';
import { type OpenLab, openLab } from '../open-lab.ts';
import {
  findKits,
  gather,
  readAll,
  readSettings,
  takeKits,
  takeLab,
  takeSeed,
  takeSettings,
  wholeNumber,
} from '../options.ts';
import { printKits } from '../print/kits-text.ts';
import { printMap } from '../print/map-text.ts';
import { printOptimum } from '../print/optimum-text.ts';
import { printThresholds } from '../print/threshold-text.ts';
import type { Report, Verb } from '../verb.ts';

const optionsForm = z.object({
  kit: z.array(z.string()),
  vary: z.array(z.string()),
  until: z.string().optional(),
  show: z.string().optional(),
  best: z.string().optional(),
  least: z.string().optional(),
  within: z.array(z.string()),
  measure: z.array(z.string()),
  places: z.number().optional(),
  rehearsals: z.number().optional(),
  figure: z.string().optional(),
  seed: z.number(),
  set: z.array(z.string()),
});

type Options = z.infer<typeof optionsForm>;

export const adaptVerb: Verb = {
  name: 'adapt',
  what: 'Say where the lab works: with which kit, over which range, and which choice is best under limits.',
  example: 'benchwright adapt labs/tow-chain --vary L=0.6m..2m --until "gap(k2) < 4 %"',
  declare(command) {
    takeLab(command);
    takeSettings(command);
    takeKits(command);
    takeSeed(command);
    command
      .option(
        '--vary <SYMBOL=RANGE>',
        'L=0.8m..2m, "L=0.8m..2m by 0.1m" or m_t=250g,500g (repeatable)',
        gather,
        [],
      )
      .option('--until <CONDITION>', 'where along what is varied this is met: "gap(k2) < 2 %"')
      .option('--show <EFFECT>', 'the choice that shows this effect best: its share over the uncertainty')
      .option('--best <MEASURE>', 'the choice with the largest value of a measure')
      .option('--least <MEASURE>', 'the choice with the least value of a measure')
      .option(
        '--within <CONDITION>',
        'a limit that the choice must keep: "speed < 3 m/s" (repeatable)',
        gather,
        [],
      )
      .option(
        '--measure <MEASURE>',
        'what to map: gap(k2), u(k2), share(k2, EFFECT), time, speed … (repeatable)',
        gather,
        [],
      )
      .option(
        '--places <N>',
        'how many places along each range are looked at',
        wholeNumber('--places', 2, 200),
      )
      .option('--figure <FILE>', 'write the figure of kits, or of a map, here as SVG')
      .option(
        '--rehearsals <N>',
        'how often each uncertainty is rehearsed',
        wholeNumber('--rehearsals', 4, 100_000),
      );
  },
  async run(desk: Desk, [where], given): Promise<Outcome<Report>> {
    const options = optionsForm.parse(given);
    const open = await openLab(desk, where);
    if (!open.ok) return open;
    const answer = answerTo(desk, open.value, options);
    desk.progress.clear();
    if (!answer.ok) return answer;
    const { figure, ...report } = answer.value;
    if (options.figure !== undefined) {
      if (figure === undefined) return usage('--figure draws kits and maps; this question has no figure.');
      if (!figure.ok) return figure;
      const written = await writeFigure(desk, figure.value, options.figure);
      if (!written.ok) return written;
    }
    return succeed({ ...report, notes: [...open.warnings, ...answer.warnings] });
  },
};

/** Writes a figure to a file that is not there yet. */
async function writeFigure(desk: Desk, figure: ChartFigure, shown: string): Promise<Outcome<null>> {
  try {
    await writeFile(resolve(desk.environment.folder, shown), figureToSvg(figure), { flag: 'wx' });
    return succeed(null);
  } catch (error) {
    return fail(refusal(error, shown, 'written'));
  }
}

/** Figures on a command line speak as it does. */
const WORDING = { language: 'en', decimalMark: '.' } as const;

type Answer = Pick<Report, 'json' | 'print'> & { readonly figure?: Outcome<ChartFigure> };

/** What every question is asked with. */
interface Asking {
  readonly desk: Desk;
  readonly open: OpenLab;
  readonly options: Options;
  readonly kits: readonly Kit[];
  /** The lab with the kits that were asked for. */
  readonly pipeline: Pipeline;
  readonly fixed: readonly Setting[];
  readonly variations: readonly Variation[];
  readonly asked: AdaptAsked;
}

function answerTo(desk: Desk, open: OpenLab, options: Options): Outcome<Answer> {
  const questions = (['until', 'show', 'best', 'least'] as const).filter((key) => options[key] !== undefined);
  if (questions.length > 1)
    return usage(
      `${questions.map((key) => `--${key}`).join(' and ')} are different questions; ask one at a time.`,
    );
  if (questions.length === 1 && options.vary.length === 0)
    return usage(`--${questions[0]} needs something to choose: --vary L=0.8m..2m.`);
  const kits = findKits(open.lab, options.kit);
  if (!kits.ok) return kits;
  const equipped = kits.value.length === 0 ? succeed(open.lab) : open.lab.equip(kits.value);
  if (!equipped.ok) return equipped;
  const lab = equipped.value;
  const fixed = readSettings(lab, options.set);
  if (!fixed.ok) return fixed;
  const variations = readAll(options.vary, (text) => readVariation(lab, text));
  if (!variations.ok) return variations;
  const pipeline = kits.value.length === 0 ? open.pipeline : createPipeline(lab);
  const asking: Asking = {
    desk,
    open,
    options,
    kits: kits.value,
    pipeline,
    fixed: fixed.value,
    variations: variations.value,
    asked: {
      kits: kits.value.map(({ name }) => name),
      set: fixed.value,
      seed: options.seed,
      rehearsals: options.rehearsals ?? 0,
    },
  };
  if (options.until !== undefined) return answerThreshold(asking, options.until);
  const aim = readAim(lab, options);
  if (!aim.ok) return aim;
  if (aim.value !== null) return answerOptimum(asking, aim.value);
  return variations.value.length > 0 ? answerMap(asking) : answerKits(asking);
}

function answerKits({ desk, open, options, kits, fixed, asked }: Asking): Outcome<Answer> {
  if (fixed.length > 0) return usage('--set goes with --vary; a kit is a set of values by itself.');
  const sets = kits.length > 0 ? [[], kits] : combineKits(open.lab.kits);
  const found = surveyKits(open.pipeline, sets, {
    ...gaugeOptions(desk, options),
    progress: (done, total) => desk.progress.show('sets of equipment', done, total),
  });
  if (!found.ok) return found;
  return succeed({
    figure: kitsFigureOf(found.value),
    json: adaptToJson(open, asked, { equipment: found.value }),
    print: (page) => printKits(page, open.lab, found.value),
  });
}

function kitsFigureOf(outlooks: readonly EquipmentOutlook[]): Outcome<ChartFigure> {
  const [judged] = outlooks.flatMap(({ outlook }) =>
    outlook === null ? [] : (judgedResult(outlook.results) ?? []),
  );
  if (judged === undefined) return usage('No equipment can be run, so there is nothing to draw.');
  const nameOf = ({ kits }: EquipmentOutlook) => kits.map(({ name }) => name).join(' + ') || 'as given';
  return succeed(kitsFigure(outlooks, judged.result, nameOf, WORDING));
}

/** The first measure of a map. */
function mapFigureOf(map: MeasureMap): Outcome<ChartFigure> {
  const [measure] = map.measures;
  return measure === undefined ? usage('The map holds no measure.') : measureMapFigure(map, measure, WORDING);
}

function answerMap({ desk, open, options, pipeline, variations, fixed, asked }: Asking): Outcome<Answer> {
  if (variations.length > 2)
    return usage('A map is drawn over one or two quantities; --vary was given more often.');
  const { lab } = pipeline;
  const measures = readAll(options.measure.length > 0 ? options.measure : usualMeasures(lab), (text) =>
    readMeasure(lab, text, `--measure "${text}"`),
  );
  if (!measures.ok) return measures;
  const map = mapMeasures(gaugeOf(pipeline, desk, options), measures.value, variations, fixed, {
    ...(options.places === undefined ? {} : { places: options.places }),
    signal: desk.environment.signal,
    progress: (done, total) => desk.progress.show('places', done, total),
  });
  if (!map.ok) return map;
  return succeed({
    figure: mapFigureOf(map.value),
    json: adaptToJson(open, asked, { map: map.value }),
    print: (page) => printMap(page, lab, map.value),
  });
}

function answerThreshold(asking: Asking, until: string): Outcome<Answer> {
  const { desk, open, options, pipeline, variations, fixed, asked } = asking;
  const [first, second, ...more] = variations;
  if (first === undefined || more.length > 0) return usage('--until takes one or two --vary.');
  const condition = readCondition(pipeline.lab, until, '--until');
  if (!condition.ok) return condition;
  const gauge = gaugeOf(pipeline, desk, options);
  // A second quantity: the same question at each of its values.
  const cases: readonly (readonly Setting[])[] =
    second === undefined
      ? [[]]
      : placesOf(second, options.places ?? 9).map((value) => [{ quantity: second.quantity, value }]);
  const answers: { readonly with: readonly Setting[]; readonly answer: ThresholdAnswer }[] = [];
  for (const settings of cases) {
    const found = solveThreshold(gauge, condition.value, first, [...fixed, ...settings], {
      ...(options.places === undefined ? {} : { places: options.places }),
      signal: desk.environment.signal,
      progress: (done, total) => desk.progress.show('places', done, total),
    });
    if (!found.ok) return found;
    answers.push({ with: settings, answer: found.value });
  }
  return succeed({
    json: adaptToJson(open, asked, { thresholds: answers }),
    print: (page) =>
      printThresholds(
        page,
        pipeline.lab,
        answers.map((one) => ({ at: labelSettings(one.with), answer: one.answer })),
      ),
  });
}

function answerOptimum(asking: Asking, aim: Aim): Outcome<Answer> {
  const { desk, open, options, pipeline, variations, fixed, asked } = asking;
  const conditions: Outcome<readonly AdaptCondition[]> = readAll(options.within, (text) =>
    readCondition(pipeline.lab, text, '--within'),
  );
  if (!conditions.ok) return conditions;
  const found = optimise(gaugeOf(pipeline, desk, options), aim, conditions.value, variations, fixed, {
    ...(options.places === undefined ? {} : { places: options.places }),
    signal: desk.environment.signal,
    progress: (done, total) => desk.progress.show('choices', done, total),
  });
  if (!found.ok) return found;
  return succeed({
    json: adaptToJson(open, asked, { optimum: found.value }),
    print: (page) => printOptimum(page, pipeline.lab, found.value),
  });
}

function readAim(lab: Lab, { show, best, least }: Options): Outcome<Aim | null> {
  if (show !== undefined) {
    const measure = readMeasure(lab, `visible(${mainResult(lab)}, ${show})`, `--show "${show}"`);
    return measure.ok ? succeed({ measure: measure.value, sense: 'largest' }) : measure;
  }
  const [text, option, sense] =
    best !== undefined ? ([best, '--best', 'largest'] as const) : ([least, '--least', 'least'] as const);
  if (text === undefined) return succeed(null);
  const measure = readMeasure(lab, text, `${option} "${text}"`);
  return measure.ok ? succeed({ measure: measure.value, sense }) : measure;
}

/** What a map shows where nobody says what: gap and uncertainty of the main result, and how the run goes. */
function usualMeasures(lab: Lab): readonly string[] {
  const result = mainResult(lab);
  return [
    `gap(${result})`,
    `u(${result})`,
    'readings',
    ...(lab.model.kind === 'motion' ? ['time', 'speed', 'energy'] : []),
  ];
}

function mainResult(lab: Lab): string {
  return (lab.results.find(({ theory }) => theory !== null) ?? lab.results[0])?.name ?? '';
}

function gaugeOf(pipeline: Pipeline, desk: Desk, options: Options) {
  return createGauge(pipeline, gaugeOptions(desk, options));
}

function gaugeOptions(desk: Desk, { rehearsals, seed }: Options) {
  return {
    seed,
    signal: desk.environment.signal,
    ...(rehearsals === undefined ? {} : { rehearsals }),
  };
}

function usage(message: string, advice?: string) {
  return fail(problem('usage', {}, message, advice));
}
