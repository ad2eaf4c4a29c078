/** A text that the lab once had, and what was done to leave it. */
export interface Deed {
  readonly text: string;
  /** What was done, as a person would say it: 'length of the chain to 1.21 m'. */
  readonly label: string;
  /** A symbol that got another name: the author's texts follow, and follow back. */
  readonly renamed?: Renamed | undefined;
}

/** A symbol with its name before and after. */
export interface Renamed {
  readonly from: string;
  readonly to: string;
}

/** The texts of a lab, one a deed; the present one stands between what can be undone and what can be done again. */
export interface History {
  readonly past: readonly Deed[];
  readonly present: string;
  readonly future: readonly Deed[];
  /** Deeds of one gesture (a slider in the hand, a field being typed in) are one deed; null between gestures. */
  readonly gesture: string | null;
}

/** Deeds beyond this many are forgotten, the oldest first: a day's work, and a few megabytes at most. */
const MOST_DEEDS = 500;

export function beginHistory(text: string): History {
  return { past: [], present: text, future: [], gesture: null };
}

/**
 * The history after a deed. What could be done again is forgotten.
 *
 * @param gesture deeds that follow one another under the same name are undone together
 */
export function record(
  history: History,
  text: string,
  label: string,
  gesture: string | null = null,
  renamed?: Renamed,
): History {
  if (text === history.present) return history;
  const continues = gesture !== null && gesture === history.gesture;
  const before = continues ? history.past.at(-1)?.text : undefined;
  const past =
    before === undefined
      ? [...history.past, { text: history.present, label, renamed }].slice(-MOST_DEEDS)
      : [...history.past.slice(0, -1), { text: before, label }];
  return { past, present: text, future: [], gesture };
}

/** Ends the gesture in hand: what comes next is a deed of its own. */
export function endGesture(history: History): History {
  return history.gesture === null ? history : { ...history, gesture: null };
}

export function undo(history: History): History {
  const last = history.past.at(-1);
  if (last === undefined) return history;
  return {
    past: history.past.slice(0, -1),
    present: last.text,
    future: [{ ...last, text: history.present }, ...history.future],
    gesture: null,
  };
}

export function redo(history: History): History {
  const [next, ...future] = history.future;
  if (next === undefined) return history;
  return {
    past: [...history.past, { ...next, text: history.present }],
    present: next.text,
    future,
    gesture: null,
  };
}
