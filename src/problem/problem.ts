/** Where something was found: in a file, in a setting of the lab, or in a step of the work. */
export interface Place {
  /** Path as the user gave it, relative to the lab's folder. */
  readonly file?: string;
  /** 1-based. */
  readonly line?: number;
  /** 1-based, in UTF-16 units. */
  readonly column?: number;
  /** In words, where no file position exists: 'reduction, line of v² against x², run 4'. */
  readonly step?: string;
}

/** A text that can say where each of its characters stands in a user's file. */
export interface Origin {
  placeAt(offset: number): Place;
}

/**
 * One thing that is wrong, or doubtful, and that a person can mend.
 *
 * `message` is one or two sentences: what was found and what would be right.
 * `code` is stable, kebab-case, and documented: 'unknown-key', 'wrong-dimension'.
 */
export interface Problem {
  readonly code: string;
  readonly severity: 'error' | 'warning';
  readonly place: Place;
  readonly message: string;
  /** What to try, a sentence; printed after the message. */
  readonly tryThis?: string;
}

/** What can fail because of data or physics returns this; exceptions are for mistakes of the calling code. */
export type Outcome<T> =
  | { readonly ok: true; readonly value: T; readonly warnings: readonly Problem[] }
  | { readonly ok: false; readonly problems: readonly Problem[] };

export function succeed<T>(value: T, warnings: readonly Problem[] = []): Outcome<T> {
  return { ok: true, value, warnings };
}

export function fail(...problems: readonly Problem[]): {
  readonly ok: false;
  readonly problems: readonly Problem[];
} {
  return { ok: false, problems };
}

/** A problem of severity 'error'. */
export function problem(code: string, place: Place, message: string, tryThis?: string): Problem {
  return tryThis === undefined
    ? { code, severity: 'error', place, message }
    : { code, severity: 'error', place, message, tryThis };
}

/** A problem of severity 'warning': the work goes on, the reader is told. */
export function warning(code: string, place: Place, message: string, tryThis?: string): Problem {
  return { ...problem(code, place, message, tryThis), severity: 'warning' };
}

/** The place as people read it: `lab.yaml:31:12`, or the step in words. */
export function formatPlace(place: Place): string {
  const position = [place.file, place.line, place.line === undefined ? undefined : place.column]
    .filter((part) => part !== undefined)
    .join(':');
  return [position, place.step].filter((part) => part !== undefined && part !== '').join(', ');
}

/** `lab.yaml:31:12  the rate of v has the dimension of force (kg·m/s²), … Divide by a mass?` */
export function formatProblem(found: Problem): string {
  const where = formatPlace(found.place);
  const advice = found.tryThis === undefined ? '' : ` ${found.tryThis}`;
  return `${where === '' ? '' : `${where}  `}${found.message}${advice}`;
}
