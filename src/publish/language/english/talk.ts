import { type Part, say } from '../../document/index.ts';

/** Slides and speaker notes of the ten-minute talk. */
export const talk = {
  subtitle: (minutes: number) => `A talk of ${minutes} minutes`,
  weMeasure: 'What is measured:',
  question: 'The question',
  sayQuestion:
    'Ask the question and wait. Let two or three people say what they expect, and write it down for the end.',
  sayWhatHappens: 'Show it once, if it can be shown. Say what is measured and with what.',
  idealPicture: 'The ideal picture',
  sayIdeal:
    'Go through the lines in words; nobody reads equations at this speed. Dwell on the last one: it says what to plot.',
  setup: 'Set-up',
  saySetup: 'Say what the instrument really sees.',
  cautions: 'Set-up: cautions',
  sayCautions: 'They belong to the set-up. Name the one that matters most in this room.',
  predict: 'What do you expect?',
  sayPredict: 'Ask for a show of hands before the next slide.',
  measurement: 'One run',
  sayMeasurement: (result: Part, value: Part) =>
    say`This run gives ${result} = ${value}. Point at the residuals: do they wander?`,
  sayRehearsed: (result: Part, value: Part) =>
    say`No run has been taken yet; the full model expects ${result} = ${value}.`,
  results: 'Theory and measurement',
  sayResults: 'First the difference, then whether it is larger than its uncertainty. Do not explain it yet.',
  gap: 'Why they differ',
  sayGap: (effect: Part, change: Part) =>
    say`The largest effect is “${effect}”, ${change}. What is left at the end is the honest part.`,
  sayGapNone: 'The lab names no effects; what is left is the honest part.',
  classroom: 'In the classroom',
  sayClassroom: 'Name the slip that people here have met themselves.',
  slipGives: (slip: Part, value: Part) => say`${slip}: ${value}`,
  conclusion: 'What to take home',
  sayConclusion: 'Come back to what was written down at the start. Then take questions.',
};
