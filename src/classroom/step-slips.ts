import { type Lab, nameSteps, type Slip, type WrittenStep } from '../lab/index.ts';
import { fromSI, toSI } from '../quantity/index.ts';
import type { MarkingPhrases } from './language/index.ts';
import { makeSlip, type SlipWords, toldSlip } from './make-slip.ts';

type Words = MarkingPhrases['slips'];

/** Slips of the analysis: places at an interval's end, no window, no zero, half a period, slopes upside down. */
export function slipsOfSteps(lab: Lab, words: Words): readonly Slip[] {
  const steps = lab.written.eachRun;
  const names = nameSteps(steps.map(({ name, settings }) => ({ [name]: settings })));
  return [
    ...steps.flatMap((step, index) => slipsOfStep(lab, step, names[index] ?? step.name, index, words)),
    ...slipsOfLines(lab, words),
  ];
}

function slipsOfStep(
  lab: Lab,
  step: WrittenStep,
  name: string,
  index: number,
  words: Words,
): readonly Slip[] {
  switch (step.name) {
    case 'motion from edges':
      return slipsOfIntervalEnd(lab, step, name, words);
    case 'keep':
      return toldSlip(lab, { reduction: { 'each run': { [name]: null } } }, words.windowNotKept());
    case 'zero':
      return toldSlip(lab, { reduction: { 'each run': { [name]: null } } }, words.zeroNotSet());
    case 'period':
      return slipsOfPeriod(lab, step, index, words);
    default:
      return [];
  }
}

/** The mean speed of an interval, put at its end: every place is half a spacing too far on. */
function slipsOfIntervalEnd(
  lab: Lab,
  { settings }: WrittenStep,
  name: string,
  words: Words,
): readonly Slip[] {
  const marks = lab.written.instruments.get(String(settings.of))?.['edges per turn'];
  if (typeof marks !== 'number') return [];
  const radius = settings.radius === undefined ? '1' : `(${String(settings.radius)})`;
  const half = `${radius}*pi/${marks}`;
  const start = settings.start === undefined ? half : `(${String(settings.start)}) + ${half}`;
  return toldSlip(lab, { reduction: { 'each run': { [name]: { start } } } }, words.edgeAtEnd());
}

/** Half a period, or two, taken for one: the step's number is worked out under another name and then changed. */
function slipsOfPeriod(lab: Lab, { settings }: WrittenStep, index: number, words: Words): readonly Slip[] {
  const { gives } = settings;
  if (typeof gives !== 'string') return [];
  const raw = `${gives}_taken`;
  const steps = lab.written.eachRun.map((own) => ({ [own.name]: own.settings }));
  const wrong = (factor: string, own: SlipWords) =>
    toldSlip(
      lab,
      {
        reduction: {
          'each run': [
            ...steps.slice(0, index),
            { period: { ...settings, gives: raw } },
            { value: { of: `${factor}*${raw}`, gives } },
            ...steps.slice(index + 1),
          ],
        },
      },
      own,
    );
  return [...wrong('1/2', words.halfPeriod()), ...wrong('2', words.twoPeriods())];
}

/** x against y in place of y against x: the number is one over what it should be, in the unit that is asked for. */
function slipsOfLines(lab: Lab, words: Words): readonly Slip[] {
  const slopes = new Set(
    [...lab.written.eachRun, ...lab.written.acrossRuns]
      .filter(({ name }) => name === 'line')
      .map(({ settings }) => settings.slope),
  );
  return lab.results.flatMap((result, index): Slip[] => {
    if (!slopes.has(result.name)) return [];
    const { unit } = result;
    return [
      makeSlip(lab, {
        ...words.slopeUpsideDown(result.name),
        reported: [
          {
            result,
            evaluate: (results) => toSI(1 / fromSI(results[index], unit, 'interval'), unit, 'interval'),
          },
        ],
      }),
    ];
  });
}
