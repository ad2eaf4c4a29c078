import { completionKeymap } from '@codemirror/autocomplete';
import { defaultKeymap } from '@codemirror/commands';
import { yaml } from '@codemirror/lang-yaml';
import { indentOnInput } from '@codemirror/language';
import { lintKeymap, setDiagnostics } from '@codemirror/lint';
import { Annotation, EditorState } from '@codemirror/state';
import { drawSelection, EditorView, highlightSpecialChars, keymap, lineNumbers } from '@codemirror/view';
import type { BenchStore } from '../bench/bench-store.ts';
import { leastChange, withLineEndsOf, withPlainLineEnds } from './least-change.ts';
import { lookOfText } from './look-of-text.ts';
import { markProblems } from './problem-marks.ts';
import { writingHelp } from './writing-help.ts';

/** A pause after which what is written is undone by itself. */
const PAUSE = 900;

/** Marks what comes from the bench, and is not to be given back to it. */
const fromBench = Annotation.define<boolean>();

/** The lab's text under a hand. The bench has the text and its history; the editor shows it and says what is written. */
export interface LabEditor {
  /** Puts the cursor at a place of the text. */
  goTo(offset: number): void;
  close(): void;
}

export function openLabEditor(place: HTMLElement, bench: BenchStore): LabEditor {
  const presentText = (): string => bench.getState().history.present;
  let pause: ReturnType<typeof setTimeout> | undefined;
  const write = (written: string): void => {
    bench.setText(withLineEndsOf(presentText(), written), { label: 'the text', gesture: 'writing the text' });
    clearTimeout(pause);
    pause = setTimeout(() => bench.endGesture(), PAUSE);
  };
  const deed = (doIt: () => void) => (): boolean => {
    doIt();
    return true;
  };
  const view = new EditorView({
    parent: place,
    state: EditorState.create({
      doc: withPlainLineEnds(presentText()),
      extensions: [
        lineNumbers(),
        highlightSpecialChars(),
        drawSelection(),
        indentOnInput(),
        EditorView.lineWrapping,
        EditorState.tabSize.of(2),
        EditorView.contentAttributes.of({
          'aria-label': 'The text of lab.yaml',
          spellcheck: 'false',
          tabindex: '0',
        }),
        yaml(),
        lookOfText,
        writingHelp,
        // One history, the bench's; and Tab goes on to what comes next, as everywhere.
        keymap.of([
          { key: 'Mod-z', run: deed(() => bench.undo()), preventDefault: true },
          { key: 'Mod-y', run: deed(() => bench.redo()), preventDefault: true },
          { key: 'Mod-Shift-z', run: deed(() => bench.redo()), preventDefault: true },
          ...completionKeymap,
          ...lintKeymap,
          ...defaultKeymap,
        ]),
        EditorView.updateListener.of(({ docChanged, state, transactions }) => {
          if (docChanged && !transactions.some((one) => one.annotation(fromBench) === true))
            write(state.sliceDoc());
        }),
      ],
    }),
  });
  const follow = (): void => {
    const text = withPlainLineEnds(presentText());
    const changes = leastChange(view.state.sliceDoc(), text);
    if (changes !== null) view.dispatch({ changes, annotations: fromBench.of(true) });
  };
  let marked: unknown = null;
  const mark = (): void => {
    const { reading } = bench.getState();
    if (reading === marked) return;
    marked = reading;
    const marks = markProblems(view.state.sliceDoc(), reading.problems);
    const diagnostics = marks.map(({ from, to, problem }) => ({
      from,
      to,
      severity: problem.severity,
      message: problem.tryThis === undefined ? problem.message : `${problem.message} ${problem.tryThis}`,
    }));
    view.dispatch(setDiagnostics(view.state, diagnostics));
  };
  // The bench is moved while the editor is still taking in what was typed; it may be written to only afterwards.
  let isAsked = false;
  const stop = bench.subscribe(() => {
    if (isAsked) return;
    isAsked = true;
    queueMicrotask(() => {
      isAsked = false;
      if (isOpen) {
        follow();
        mark();
      }
    });
  });
  let isOpen = true;
  mark();
  view.focus();
  return {
    goTo(offset) {
      view.dispatch({ selection: { anchor: Math.min(offset, view.state.doc.length) }, scrollIntoView: true });
      view.focus();
    },
    close() {
      isOpen = false;
      stop();
      clearTimeout(pause);
      bench.endGesture();
      view.destroy();
    },
  };
}
