import type { LabSource, SourceFile } from '../../app/compute/source.ts';
import { editLabText } from '../../src/edit/index.ts';
import type { OwnFile } from '../tasks/own-file.ts';

/** What the model is held against. */
export type Measured = 'lab' | 'none' | 'own';

/** Everything that a person can change on the page. */
export interface PageState {
  /** Quantities with another value than the lab's, as written. */
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

export function createStore(text: string, files: readonly SourceFile[]): PageStore {
  let state: PageState = { written: new Map(), without: new Set(), measured: 'lab', own: null };
  const listeners: ((state: PageState) => void)[] = [];
  const alone = editLabText(text, [{ kind: 'remove', at: ['trials'] }]);
  const unmeasured = alone.ok ? alone.value : text;
  return {
    get: () => state,
    change(part) {
      state = { ...state, ...part };
      for (const listener of listeners) listener(state);
    },
    subscribe: (listener) => listeners.push(listener),
    source() {
      const { written, without, measured, own } = state;
      const held = { settings: [...written], without: [...without] };
      if (measured === 'own' && own !== null) return { text: own.text, files: [own.file], ...held };
      if (measured === 'lab') return { text, files, ...held };
      return { text: unmeasured, files: [], ...held };
    },
  };
}
