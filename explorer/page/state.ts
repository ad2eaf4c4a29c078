import type { LabSource, SourceFile } from '../../app/compute/source.ts';
import { editLabText } from '../../src/edit/index.ts';
import type { OwnFile } from '../tasks/own-file.ts';

/** What the model is held against. */
export type Measured = 'lab' | 'none' | 'own';

/** A lab with a set of equipment in it, and the runs that were taken with that equipment. */
export interface EquippedText {
  /** '' for the lab as given. */
  readonly kit: string;
  readonly text: string;
  readonly files: readonly SourceFile[];
}

/** Everything that a person can change on the page. */
export interface PageState {
  readonly equipped: EquippedText;
  /** Quantities with another value than the equipped lab's, as written. */
  readonly written: ReadonlyMap<string, string>;
  /** Effects that are switched off. */
  readonly without: ReadonlySet<string>;
  readonly measured: Measured;
  readonly own: (OwnFile & { readonly file: SourceFile; readonly name: string }) | null;
}

export interface PageStore {
  readonly get: () => PageState;
  readonly change: (part: Partial<PageState>) => void;
  readonly subscribe: (listener: (state: PageState) => void) => void;
  /** The lab as it stands on the page. */
  readonly source: () => LabSource;
}

export function createStore(given: Omit<EquippedText, 'kit'>): PageStore {
  let state: PageState = {
    equipped: { kit: '', ...given },
    written: new Map(),
    without: new Set(),
    measured: 'lab',
    own: null,
  };
  const listeners: ((state: PageState) => void)[] = [];
  return {
    get: () => state,
    change(part) {
      state = { ...state, ...part };
      for (const listener of listeners) listener(state);
    },
    subscribe: (listener) => listeners.push(listener),
    source() {
      const { equipped, written, without, measured, own } = state;
      const held = { settings: [...written], without: [...without] };
      if (measured === 'own' && own !== null) return { text: own.text, files: [own.file], ...held };
      if (measured === 'lab') return { text: equipped.text, files: equipped.files, ...held };
      return { text: withoutRuns(equipped.text), files: [], ...held };
    },
  };
}

function withoutRuns(text: string): string {
  const alone = editLabText(text, [{ kind: 'remove', at: ['trials'] }]);
  return alone.ok ? alone.value : text;
}
