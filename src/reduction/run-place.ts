import type { Place } from '../problem/index.ts';
import type { RunState } from './state.ts';

/** Where a problem of a run is: 'reduction, line of v² against x², run 4'. */
export function placeOfStep(words: string, state: RunState): Place {
  return { step: `reduction, ${words}, ${state.runName}` };
}

const RAISED = new Map(Array.from('0123456789', (digit, i) => [digit, '⁰¹²³⁴⁵⁶⁷⁸⁹'[i]]));

/** An expression as it is read aloud in a message: whole powers raised, v^2 as v². */
export function inWords(text: string): string {
  return text.replace(/\^(\d+)(?![\d.])/g, (_, digits: string) =>
    Array.from(digits, (digit) => RAISED.get(digit) ?? digit).join(''),
  );
}

/** 'The window is x > 0.20 m and x < 1.05 m.', or nothing where there is none. */
export function windowSentence(windows: readonly string[]): string {
  if (windows.length === 0) return '';
  return windows.length === 1
    ? ` The window is ${windows[0]}.`
    : ` The windows are ${windows.map((window) => `"${window}"`).join(', then ')}.`;
}
