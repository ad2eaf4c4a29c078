import type { LabClash } from '../../src/edit/index.ts';
import type { Lab } from '../../src/lab/index.ts';
import type { Problem } from '../../src/problem/index.ts';
import type { LabFile } from '../link/forms.ts';
import type { History } from './history.ts';
import type { Reading } from './reading.ts';

/** A quantity in the hand: its slider moves, and nothing is written until it is let go. */
export interface LiveSetting {
  readonly name: string;
  /** With its unit, as it will be written. */
  readonly written: string;
}

/** Where the edits are. */
export type Saving =
  | { readonly kind: 'saved' }
  | { readonly kind: 'saving' }
  /** The server does not answer; edits wait in the browser. */
  | { readonly kind: 'waiting' }
  /** A shipped lab is never written: changes live in this browser. */
  | { readonly kind: 'kept here' }
  | { readonly kind: 'refused'; readonly problems: readonly Problem[] };

/** The file was changed outside in the same places as here; nothing is written until a person has chosen. */
export interface Clash {
  readonly theirs: string;
  readonly digest: string;
  /** Both sets of changes, with theirs wherever they clash. */
  readonly merged: string;
  readonly clashes: readonly LabClash[];
}

/** Everything that the screens of one lab show. Never changed: each deed makes a new one. */
export interface BenchState {
  readonly id: string;
  readonly folder: string;
  readonly mine: boolean;
  readonly files: readonly LabFile[];
  readonly history: History;
  /** Of the present text. */
  readonly reading: Reading;
  /** The present lab, or the last one that could be read; null where none ever could. */
  readonly lab: Lab | null;
  /** The text that `lab` was read from. */
  readonly labText: string;
  readonly live: LiveSetting | null;
  /** Effects that are switched off to see what happens; the file is not changed by it. */
  readonly without: ReadonlySet<string>;
  readonly saving: Saving;
  readonly clash: Clash | null;
}
