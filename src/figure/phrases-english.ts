import type { Bars, Phrases, Trend } from './phrases.ts';
import { joinText } from './rich-text.ts';

const BARS: Readonly<Record<Bars, string>> = {
  none: '',
  up: ', with upright bars of one standard uncertainty',
  across: ', with bars of one standard uncertainty along x',
  both: ', with bars of one standard uncertainty in both directions',
};

const TRENDS: Readonly<Record<Trend, string>> = {
  rising: 'rises',
  falling: 'falls',
  varying: 'goes up and down',
  level: 'stays level',
};

export const englishPhrases: Phrases = {
  measured: 'measured',
  full: 'full model',
  ideal: 'ideal model',
  theory: 'theory',
  residual: 'residual',
  line: 'line',
  fittedCurve: 'fit',
  remainder: 'remainder',
  rehearsals: 'rehearsals',
  central95: 'central 95 %',
  step: 'time step',
  tenthOfUncertainty: 'a tenth of the uncertainty',
  steppers: {
    'forward-euler': 'forward Euler',
    'semi-implicit-euler': 'semi-implicit Euler',
    midpoint: 'midpoint',
    'fourth-order': 'fourth order',
  },
  phenomenon: 'phenomenon',
  reduction: 'reduction',
  results: 'results',
  states: 'states',
  quantities: 'quantities',
  effects: 'effects',
  readings: 'readings',
  schematicNote: 'Schematic, made from the lab file: what acts on what, not how it looks.',
  thinned:
    'There are more values than can be drawn; those shown keep the highest and the lowest of every place.',
  plusMinusUncertainty: (name) => `${name} ± standard uncertainty`,
  standardUncertaintyOf: (quantity) => `standard uncertainty of ${quantity}`,
  from: 'from',
  to: 'to',
  count: 'count',
  row: 'line',
  against: (y, x) => `${y} against ${x}`,
  errorOf: (result) => joinText('error of ', result),
  failing: (condition) => `no longer true: ${condition}`,
  settingTitle: (result, setting) => `${result} at different ${setting}`,
  ledgerTitle: (result) => `Gap ledger of ${result}`,
  kitsTitle: (result) => `${result} with other equipment`,
  asGiven: 'as given',
  mapTitle: ({ measure, first, second }) =>
    second === null ? `${measure} against ${first}` : `${measure} over ${first} and ${second}`,
  rehearsalTitle: (result) => `Rehearsed ${result}`,
  stepsTitle: (result) => `Error of ${result} against the time step`,
  validityTitle: (state) => `Where the model holds: ${state} against time`,
  schematicTitle: (lab) => `Schematic of the lab: ${lab}`,
  more: (count) => `and ${count} more`,
  verdicts: {
    explained: 'Nothing is left to explain: the remainder is within its uncertainty.',
    doubtful: 'Doubtful: the remainder is larger than chance would often make it.',
    unexplained: 'Something is missing: the remainder is larger than all stated uncertainties allow.',
    unknown: 'Not to be judged: no uncertainty is stated that the remainder could be held against.',
  },

  sayPoints: ({ count, name, y, x, bars }) =>
    `${count} ${count === 1 ? 'point' : 'points'} (${name}) of ${y} against ${x}${BARS[bars]}.`,
  saySeries: ({ name, y, x }) => `A line (${name}) of ${y} against ${x}.`,
  sayRange: ({ y, fromY, toY, trend, x, fromX, toX }) =>
    trend === 'varying'
      ? `Between ${x} = ${fromX} and ${toX}, ${y} goes up and down between ${fromY} and ${toY}.`
      : `From ${x} = ${fromX} to ${toX}, ${y} ${TRENDS[trend]} from ${fromY} to ${toY}.`,
  sayNothing: () => 'There is nothing to show yet.',
  sayParameters: (parameters) =>
    `The fit has ${listed(parameters.map(({ name, value }) => `${name} = ${value}`))}.`,
  sayResiduals: (within) => `The residuals stay within ±${within}.`,
  sayDifference: ({ name, reference, low, high }) =>
    `${capital(name)} minus ${reference} lies between ${low} and ${high}.`,
  sayKit: ({ kit, result, expected, theory }) =>
    `${capital(kit)}: ${result} = ${expected}${theory === null ? '' : `; theory gives ${theory}`}.`,
  sayMap: ({ measure, least, atLeast, greatest, atGreatest }) =>
    `${measure} lies between ${least} (at ${atLeast}) and ${greatest} (at ${atGreatest}).`,
  sayLevel: ({ name, value }) => `${capital(name)}: ${value}.`,
  sayEffects: ({ result, effects }) =>
    effects.length === 0
      ? 'The lab names no effects.'
      : `The effects change ${result} by: ${effects.map(({ name, change }) => `${name}, ${change}`).join('; ')}.`,
  sayShifts: ({ result, steps }) =>
    `Between theory and ideal model, steps of the reduction shift ${result} by: ${steps.map(({ name, change }) => `${name}, ${change}`).join('; ')}.`,
  sayRemainder: ({ value, inUncertainties, verdict }) =>
    `Remainder: ${value}${inUncertainties === null ? '' : `, ${inUncertainties} times its standard uncertainty`}. ${englishPhrases.verdicts[verdict]}`,
  sayHistogram: ({ count, result, mean, spread, low, high }) =>
    `Histogram of ${result} in ${count} rehearsals: mean ${mean}, standard deviation ${spread}, 95 % of them between ${low} and ${high}.`,
  sayStepper: ({ name, atSmallest, smallest, atLargest, largest }) =>
    `${capital(name)}: the error grows from ${atSmallest} at a step of ${smallest} to ${atLargest} at ${largest}.`,
  sayGoodStep: ({ name, step }) =>
    step === null
      ? `With ${name} no step tried keeps the error below a tenth of the uncertainty.`
      : `With ${name} steps up to ${step} keep the error below a tenth of the uncertainty.`,
  sayHolds: (condition) => `The condition "${condition}" holds throughout.`,
  sayFails: ({ condition, at, state }) =>
    `The condition "${condition}" first fails at ${at}, where ${state}; the time after that is hatched.`,
  sayBlocks: (blocks) =>
    `Blocks from left to right, joined by arrows: ${blocks
      .map(({ heading, lines }) => (lines.length === 0 ? heading : `${heading} (${lines.join('; ')})`))
      .join(', then ')}.`,
};

function listed(parts: readonly string[]): string {
  if (parts.length < 2) return parts.join('');
  return `${parts.slice(0, -1).join(', ')} and ${parts.at(-1)}`;
}

function capital(text: string): string {
  return text.charAt(0).toUpperCase() + text.slice(1);
}
