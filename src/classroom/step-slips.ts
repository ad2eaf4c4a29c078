import { type Lab, nameSteps, type Slip, type WrittenStep } from '../lab/index.ts';
import { fromSI, toSI } from '../quantity/index.ts';
import { makeSlip, type SlipWords, toldSlip } from './make-slip.ts';

/** Slips of the analysis: places at an interval's end, no window, no zero, half a period, slopes upside down. */
export function slipsOfSteps(lab: Lab): readonly Slip[] {
  const steps = lab.written.eachRun;
  const names = nameSteps(steps.map(({ name, settings }) => ({ [name]: settings })));
  return [
    ...steps.flatMap((step, index) => slipsOfStep(lab, step, names[index] ?? step.name, index)),
    ...slipsOfLines(lab),
  ];
}

function slipsOfStep(lab: Lab, step: WrittenStep, name: string, index: number): readonly Slip[] {
  switch (step.name) {
    case 'motion from edges':
      return slipsOfIntervalEnd(lab, step, name);
    case 'keep':
      return toldSlip(
        lab,
        { reduction: { 'each run': { [name]: null } } },
        {
          name: 'window not kept',
          is: 'readings beyond the window in which the model is true are kept',
          helps: 'Keep the part of the run that the lab asks for.',
        },
      );
    case 'zero':
      return toldSlip(
        lab,
        { reduction: { 'each run': { [name]: null } } },
        {
          name: 'zero not set',
          is: 'the zero of the instrument is not taken off',
          helps: 'Set the zero before the run, or take its mean off.',
        },
      );
    case 'period':
      return slipsOfPeriod(lab, step, index);
    default:
      return [];
  }
}

/** The mean speed of an interval, put at its end: every place is half a spacing too far on. */
function slipsOfIntervalEnd(lab: Lab, { settings }: WrittenStep, name: string): readonly Slip[] {
  const marks = lab.written.instruments.get(String(settings.of))?.['edges per turn'];
  if (typeof marks !== 'number') return [];
  const radius = settings.radius === undefined ? '1' : `(${String(settings.radius)})`;
  const half = `${radius}*pi/${marks}`;
  const start = settings.start === undefined ? half : `(${String(settings.start)}) + ${half}`;
  return toldSlip(
    lab,
    { reduction: { 'each run': { [name]: { start } } } },
    {
      name: 'edge at the end of the interval',
      is: 'the mean speed of each interval is put at its end and not at its middle',
      helps: 'A mean speed belongs to the middle of its interval.',
    },
  );
}

/** Half a period, or two, taken for one: the step's number is worked out under another name and then changed. */
function slipsOfPeriod(lab: Lab, { settings }: WrittenStep, index: number): readonly Slip[] {
  const { gives } = settings;
  if (typeof gives !== 'string') return [];
  const raw = `${gives}_taken`;
  const steps = lab.written.eachRun.map((own) => ({ [own.name]: own.settings }));
  const wrong = (factor: string, words: SlipWords) =>
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
      words,
    );
  return [
    ...wrong('1/2', {
      name: 'half-period for period',
      is: 'the time from one passage to the next is taken for the period',
      helps: 'A period ends when the swing passes again in the same direction.',
    }),
    ...wrong('2', {
      name: 'two periods for one',
      is: 'the time of two swings is taken for the period',
      helps: 'Count a swing when it passes in the same direction, and begin at nought.',
    }),
  ];
}

/** x against y in place of y against x: the number is one over what it should be, in the unit that is asked for. */
function slipsOfLines(lab: Lab): readonly Slip[] {
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
        name: `slope upside down (${result.name})`,
        is: `${result.name} is read as run over rise`,
        helps: 'The slope is the change upwards over the change to the right.',
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
