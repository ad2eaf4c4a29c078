import { type Part, say } from '../../document/index.ts';

/** Aim, background, the step loop, predict-first questions. */
export const background = {
  measures: (results: Part, several: boolean) =>
    say`You will measure ${results}, and compare ${several ? 'them' : 'it'} with what theory says.`,
  resultAs: (what: Part, symbol: Part) => say`${symbol} (${what})`,
  ideal: 'First the ideal picture, in which everything small is left out.',
  lawInWords: (because: Part) => say`The law in words: ${because}.`,
  derivation: 'Line by line:',
  because: (reason: Part) => say`because ${reason}`,
  withinShare: (share: Part) => say`(true to within ${share})`,
  theoryGives: (what: Part) => say`So theory gives for ${what}:`,
  theoryIsNumber: (what: Part, value: Part) => say`Theory gives for ${what} the value ${value}.`,
  theoryNeedsMachine: (what: Part) =>
    say`The sum over all small parts of the motion that gives ${what} is too long for paper; a machine works it out. Your teacher has its values.`,
  sumOverSteps: 'Where a line needs a sum over many small parts, only what comes out of it is shown here.',
  stepIntroduction:
    'You do not need to solve an equation. Follow the motion in many short steps of time: within one step everything is taken as steady, so only multiplying and adding are left. Call the length of a step Δt. Every step is the same:',
  newFromOld: (state: Part, rate: Part, isSum: boolean) =>
    isSum
      ? say`New ${state} = old ${state} + (${rate}) × Δt.`
      : say`New ${state} = old ${state} + ${rate} × Δt.`,
  withNew: (state: Part, rate: Part) =>
    say`New ${state} = old ${state} + ${rate} × Δt, with the new values from the lines above.`,
  timeGoesOn: 'The time grows by Δt. Write all new values down; they are the old values of the next step.',
  jumps: (name: Part, state: Part, value: Part) =>
    say`If this has just happened: ${name}, put ${value} in the place of ${state}.`,
  goOnUntil: (stop: Part) => say`Go on until this happens: ${stop}.`,
  goOnToEnd: 'Go on to the end of the motion.',
  stepTable: (step: Part) => say`The first steps of the ideal motion, with Δt = ${step}`,
  tableIsRough:
    'Such long steps are good for seeing how it works, not for a result: each makes a small mistake, and the mistakes add up.',
  goodStep: (result: Part, step: Part) =>
    say`With steps of ${step} or shorter the mistake in ${result} is less than a tenth of the uncertainty of the measurement. Let a machine do those.`,
  leftOut: 'The ideal picture leaves this out:',
  nothingLeftOut: 'This lab names nothing that the ideal picture leaves out.',
  modelOf: (output: Part) => say`The law for ${output}:`,
  modelParts: 'In it stands:',
  model: (output: Part, control: Part) => say`The law says how ${output} depends on ${control}:`,

  predictIntroduction:
    'Answer these before you take the first reading. A wrong guess that you wrote down teaches more than a right one that you read.',
  sketch: (y: Part, x: Part) =>
    say`Sketch how you expect ${y} to depend on ${x}. Which points of the sketch are you sure of?`,
  sketchLine: (y: Part, x: Part) => say`In the ideal picture ${y} against ${x} is a straight line.`,
  sketchSlope: (slope: Part) => say`Its slope is ${slope}.`,
  whenGrows: (quantity: Part, what: Part, result: Part) =>
    say`${what} (${quantity}) is made larger. Does ${result} become larger, become smaller, or stay as it is? Why?`,
  itGrows: (result: Part, values: Part) => say`${result} becomes larger: ${values}.`,
  itShrinks: (result: Part, values: Part) => say`${result} becomes smaller: ${values}.`,
  itStays: (result: Part, values: Part) => say`${result} stays as it is, within its uncertainty: ${values}.`,
  itVaries: (result: Part, values: Part) => say`${result} goes up and down: ${values}.`,
  valueAt: (value: Part, setting: Part) => say`${value} at ${setting}`,
  whichMost: (result: Part) =>
    say`Which of the things that the ideal picture leaves out do you expect to change ${result} most?`,
  mostIs: (effect: Part, change: Part) =>
    say`By the full model it is “${effect}”, which changes it by ${change}.`,
};
