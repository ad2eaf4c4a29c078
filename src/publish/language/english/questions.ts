import { type Part, say } from '../../document/index.ts';

/** Questions after the measurement, with their answers, and what to do next. */
export const questions = {
  whichSmaller: (result: Part, effects: Part) =>
    say`Which of these makes ${result} smaller than the ideal picture says, and which makes it larger: ${effects}? Give a reason for each.`,
  smaller: (effects: Part) => say`Smaller: ${effects}.`,
  larger: (effects: Part) => say`Larger: ${effects}.`,
  hardly: (effects: Part) => say`Hardly any change, less than a tenth of the uncertainty: ${effects}.`,
  effectBy: (effect: Part, change: Part) => say`${effect}, ${change}`,
  explainEffect: (effect: Part, is: Part) => say`${effect}: ${is}`,
  together: (result: Part) =>
    say`Add up all effects, with their signs. Do they explain the difference that you found in ${result}?`,
  togetherIs: (sum: Part, remainder: Part) =>
    say`Together they come to ${sum}. In the sample runs ${remainder} is left after that.`,
  togetherOnly: (sum: Part) => say`Together they come to ${sum}.`,
  whereTrue: (condition: Part) =>
    say`The theory is true only while ${condition}. When would it stop being true, and what would you see then?`,
  neverFails: 'With these values it stays true for the whole run.',
  failsAt: (time: Part, state: Part) =>
    say`With these values it stops being true at ${time}, where ${state}. Readings after that are set aside.`,
  slip: (result: Part, value: Part) =>
    say`A group reports ${result} = ${value}. Nothing is broken. What did it most likely do?`,
  slipTheory: (result: Part, value: Part) =>
    say`A group works out from theory that ${result} is ${value}. What did it most likely do?`,
  slipIs: (is: Part, right: Part) => say`Most likely ${is}. With that put right it is ${right}.`,
  whichQuantity: (result: Part) =>
    say`Which of your own values would you measure again first, to make ${result} agree better? By how much would it have to change?`,
  closing: (quantity: Part, needed: Part, times: Part) =>
    say`${quantity} would have to be ${needed}, which is ${times} standard uncertainties away`,
  closingIs: (list: Part) => say`For the sample runs: ${list}.`,
  nothingCloses: 'For the sample runs no single value within ten of its standard uncertainties would do it.',

  extendIntroduction: 'For those who have time:',
  tryKit: (is: Part, result: Part) =>
    say`Do it again with ${is}. Predict first: will ${result} become larger or smaller, and by how much?`,
  kitIs: (result: Part, kit: Part, own: Part) =>
    say`The full model gives ${result} = ${kit} instead of ${own}.`,
  switchOn:
    'Put one of the effects into the step loop and let the machine do the steps. Does the result move the way you said?',
  switchOnLaw: 'Put one of the effects into the law. What becomes of the result?',
  switchOnPlain: 'Put one of the effects into the equation of motion. What becomes of the result?',
  pool: (result: Part, quantity: Part) =>
    say`Collect ${result} from all groups and plot it against ${quantity}. What curve does theory draw through the points?`,
};
